/**
 * Writes the invented sheets of this folder: `npx tsx datasets/other-shop/generator.ts`. Seeded, so it always writes
 * the same bytes. Small on purpose: the shape of the sheets matters here, not the truth behind them (README.md).
 */
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const seed = 20_260;
const serials = [
  "SL475-01",
  "SL475-02",
  "SL475-03",
  "SL475-04",
  "SL475-05",
  "SL475-07",
  "SL475-08",
  "SL650-01",
  "SL650-02",
  "SL650-03",
  "SL650-04",
  "SL650-05",
  "SL650-06",
  "SL650-09",
];
const fitters = ["K. M.", "R. T.", "J. O."];
const clients = ["Northfield Energy", "Basin & Co.", "Teal Geothermal"];
const designTorque = [1500, 2300, 2300, 3100] as const;
const lastDay = Date.UTC(2026, 5, 30);
const day = 86_400_000;

/** Mulberry32 (T. Ettinger, public domain): a small seeded generator of uniforms in [0, 1). */
function uniforms(start: number): () => number {
  let state = start;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

const twoDigits = (value: number): string => String(value).padStart(2, "0");
const dayFirst = (time: number, sign: string): string => {
  const date = new Date(time);
  return [twoDigits(date.getUTCDate()), twoDigits(date.getUTCMonth() + 1), date.getUTCFullYear()].join(sign);
};

/** The strip reports come from an old program that writes windows-1252. */
export const encodingOf = (file: string): "latin1" | "utf8" => (file === "strip.txt" ? "latin1" : "utf8");

/** The three sheets as text, by file name. */
export function otherShopSheets(): Readonly<Record<string, string>> {
  const uniform = uniforms(seed);
  const pick = <T>(choices: readonly T[]): T => choices[Math.floor(uniform() * choices.length)] as T;
  const weibull = (shape: number, scale: number) => scale * (-Math.log(1 - uniform())) ** (1 / shape);
  const chance = (probability: number) => uniform() < probability;

  const builds: { readonly at: number; readonly line: string }[] = [];
  const jobs: { readonly at: number; readonly cells: readonly string[] }[] = [];
  const strips: { readonly at: number; readonly line: string }[] = [];
  for (const serial of serials) {
    let now = Date.UTC(2024, 0, 8) + Math.floor(uniform() * 200) * day;
    let why = "Neubau";
    let cycle = 0;
    while (now < lastDay - 40 * day) {
      const newThread = [0, 1, 2, 3].map(() => cycle === 0 || chance(0.12));
      const torques = designTorque.map((design) =>
        chance(0.02) ? "good tight" : (design * (0.9 + 0.2 * uniform())).toFixed(1).replace(".", ","),
      );
      const lot = chance(0.05) ? "" : `L${2300 + Math.floor(uniform() * 12)}`;
      const test = chance(0.03) ? "nicht bestanden" : "bestanden";
      builds.push({
        at: now,
        line: [
          serial,
          dayFirst(now, "."),
          why,
          pick(fitters),
          ...torques,
          ...newThread.map((isNew) => (isNew ? "ja" : "nein")),
          pick(["Kupferfett", "Zinkfett"]),
          lot,
          (2.41 + 0.02 * uniform()).toFixed(3).replace(".", ","),
          test,
        ].join(";"),
      });
      const torqued = torques.map((torque, i) => Number(torque.replace(",", ".")) / (designTorque[i] ?? 1) || 1);
      const extrusion = weibull(2.2, 300);
      const leak = extrusion + weibull(1, 110);
      const backOff = torqued.map((ratio) => weibull(1.3, 1600 * ratio ** 4));
      const pinWear = weibull(3, 420);
      let hours = 0;
      let failed = false;
      const runs = 2 + Math.floor(uniform() * 3);
      for (let run = 0; run < runs && !failed && now < lastDay - 20 * day; run++) {
        const out = now + (3 + Math.floor(uniform() * 20)) * day;
        const planned = 25 + 75 * uniform();
        failed = leak < hours + planned;
        const length = failed ? leak - hours : planned;
        hours += length;
        now = out + (2 + Math.ceil(length / 20)) * day;
        const written = chance(0.04) ? "" : `${length.toFixed(1)} h`;
        const reason = failed
          ? "tool failed"
          : pick(["TD", "bit trip", "end of section", "MWD down", "tight hole", ""]);
        jobs.push({
          at: out,
          cells: [
            serial,
            dayFirst(out, "/"),
            dayFirst(now, "/"),
            written,
            pick(clients),
            `${pick(["Alder", "Birch", "Cedar"])} ${1 + Math.floor(uniform() * 9)}`,
            (180 + 120 * uniform()).toFixed(0),
            (6000 + 7000 * uniform()).toFixed(0),
            reason,
            failed ? "Lip seal" : "",
            failed ? "leaking" : "",
          ],
        });
      }
      now += (2 + Math.floor(uniform() * 9)) * day;
      if (now > lastDay) break;
      const seal = hours >= extrusion ? pick(["chewed lip", "extruded", "lip badly nibbled"]) : chance(0.2) ? "" : "ok";
      const pin = hours >= pinWear ? pick(["flats on pin", "worn"]) : chance(0.3) ? "" : "ok";
      const joints = backOff.map((age) => (hours >= age ? "backed off" : "ok"));
      strips.push({
        at: now,
        line: [
          serial,
          dayFirst(now, "."),
          failed ? "Ausfall" : pick(["Routine", "Routine", "hours up"]),
          pick(fitters),
          seal,
          seal === "" || seal === "ok" ? "" : failed ? "4" : "3",
          pin,
          pin === "" || pin === "ok" ? "" : pick(["2", "3"]),
          ...joints,
          ...joints.map((joint, i) =>
            ((designTorque[i] ?? 0) * (joint === "ok" ? 0.7 + 0.2 * uniform() : 0.2)).toFixed(0),
          ),
        ].join("\t"),
      });
      now += (1 + Math.floor(uniform() * 6)) * day;
      why = failed ? "Ausfall" : "Wartung";
      cycle++;
    }
  }
  const inOrder = <T extends { readonly at: number }>(rows: readonly T[]) => [...rows].sort((a, b) => a.at - b.at);
  return {
    "builds.csv": `# Build book of an invented shop; torques as read off the machine\r\nTool;Built;Why built;Fitter;${[1, 2, 3, 4].map((i) => `Torque ${i} (Nm)`).join(";")};${[1, 2, 3, 4].map((i) => `New thread ${i}`).join(";")};Dope;Lip seal lot;Length (m);Bench test\r\n${inOrder(
      builds,
    )
      .map((row) => `${row.line}\r\n`)
      .join("")}`,
    "jobs.csv": `Job no,Tool,Out,Back,Circ hrs,Client,Well,BHT (degF),Depth (ft),Why pulled,Failed item,Symptom\n${inOrder(
      jobs,
    )
      .map((row, i) => `${[`J-${1001 + i}`, ...row.cells].join(",")}\n`)
      .join("")}`,
    "strip.txt": `Strip reports of an invented shop\n\nTool\tStripped\tWhy stripped\tPrüfer\tLip seal\tLip seal sev\tKey pin\tKey pin sev\t${[1, 2, 3, 4].map((i) => `Joint ${i}`).join("\t")}\t${[1, 2, 3, 4].map((i) => `Breakout J${i} (Nm)`).join("\t")}\n${inOrder(
      strips,
    )
      .map((row) => `${row.line}\n`)
      .join("")}`,
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const [file, content] of Object.entries(otherShopSheets()))
    writeFileSync(new URL(file, import.meta.url), content, encodingOf(file));
}
