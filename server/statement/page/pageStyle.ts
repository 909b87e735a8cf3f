/** Styles of the statement's own page: light, printable, nothing fetched. */
export const pageStyle = `
*{box-sizing:border-box}
html{background:#f7f5f0;color:#1e2326;font:400 16px/1.5 "Source Sans 3","Source Sans Pro","Helvetica Neue",Arial,sans-serif;font-variant-numeric:tabular-nums lining-nums}
body{margin:0}
main{max-width:900px;margin:0 auto;padding:32px 24px 64px;background:#fff}
h1{font-size:30px;line-height:1.2;font-weight:600;margin:0 0 4px}
h2{font-size:21px;line-height:1.25;font-weight:600;margin:40px 0 8px;padding-top:12px;border-top:1px solid #ddd8cc}
h3{font-size:16px;font-weight:600;margin:0 0 4px}
p{margin:0 0 10px;max-width:72ch}
ul,ol{margin:0 0 12px;padding-left:22px;max-width:76ch}
li{margin:0 0 6px}
.subtitle{font-size:18px;color:#5c6165;margin-bottom:12px}
.issue{border-left:4px solid #a8431f;padding:6px 12px;margin:0 0 12px;background:#f6e9e2}
.marking{font-weight:600;color:#a8431f}
.summary{border:1px solid #ddd8cc;border-radius:3px;padding:16px 20px 8px;margin:16px 0}
.summary h2{border:0;margin:0 0 8px;padding:0}
.caution{border-left:4px solid #1e2326;padding:8px 14px 2px;margin:0 0 14px;background:#f7f5f0}
nav ol{columns:2;column-gap:32px}
a{color:#2b5b74}
.scroll{overflow-x:auto;margin:0 0 4px}
table{border-collapse:collapse;font-size:14px;line-height:1.35;width:100%}
caption{text-align:left;font-weight:600;padding:8px 0 4px}
th{font-weight:600;text-align:left;border-bottom:1px solid #8d897e;padding:4px 8px 4px 0;vertical-align:bottom}
td{border-bottom:1px solid #ddd8cc;padding:4px 8px 4px 0;vertical-align:top}
.n{text-align:right}
.note{font-size:13.5px;color:#5c6165;max-width:84ch}
figure{margin:12px 0}
figure svg{max-width:100%;height:auto;border:1px solid #ddd8cc;border-radius:3px}
figcaption,.from{font-size:13px;color:#5c6165}
footer{margin-top:40px;border-top:1px solid #ddd8cc;padding-top:8px;font-size:13px;color:#5c6165}
@media (max-width:640px){main{padding:20px 14px 48px}nav ol{columns:1}}
@media print{html{background:#fff;font-size:11pt}main{max-width:none;padding:0}figure,tr,.caution li{break-inside:avoid}h2{break-after:avoid}nav{display:none}}
`;
