/** Sheets of an invented shop as it might keep them, by file name: a tool list, builds, runs and findings. */
export const smallSheets: Readonly<Record<string, string>> = {
  "tool list.csv": ["Serial,Tool type,Size in", "QX-101,Quill,4.75", "QX-102,Quill,4.75", "QX-203,Quill,6.5"].join(
    "\n",
  ),
  "builds.csv": [
    "Build;Serial;Date;Reason;J1 final ft-lbf;J2 final ft-lbf",
    "B1;QX-101;2024-01-15;New;2500;2600",
    "B2;QX-102;2024-01-20;New;2500;2600",
    "B3;QX-101;2024-03-15;Planned;2510;2590",
    "B4;QX-203;2024-02-13;New;5100;5200",
    "B5;QX-102;2024-04-20;Failure;2490;2610",
    "B6;QX-203;2024-05-13;Planned;5100;5200",
  ].join("\n"),
  "runs.csv": [
    "Run no,Serial,Out,In,Hours,Customer,Pulled because",
    "1,QX-101,2024-01-20,2024-02-20,120.5,Northern Example Drilling,Planned",
    "2,QX-102,2024-01-25,2024-03-25,180,Northern Example Drilling,Tool failure",
    '3,QX-203,2024-02-20,2024-04-20,210,"<img src=x onerror=alert(1)>",Planned',
    "4,QX-101,2024-03-20,2024-05-25,=2+3,Example Energy,Planned",
    "5,QX-102,2024-04-25,2024-06-25,90,Example Energy,Planned",
    "6,QX-203,2024-05-20,2024-07-20,140,Example Energy,Tool failure",
  ].join("\n"),
  "teardowns.csv": [
    "Teardown,Serial,Date,Item,Condition,Severity",
    "T1,QX-101,2024-02-25,main seal,sound,",
    "T2,QX-102,2024-03-30,main seal,wear,4",
    "T3,QX-203,2024-04-25,main seal,sound,",
    "T4,QX-101,2024-05-30,main seal,wear,3",
    "T5,QX-102,2024-06-30,main seal,sound,",
    "T6,QX-203,2024-07-25,main seal,wear,5",
    "T7,QX-203,,J1,=cmd|' /C calc'!A0,2",
  ].join("\n"),
};
