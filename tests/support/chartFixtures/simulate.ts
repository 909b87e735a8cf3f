/** A simulated service history of one hidden (or evident) mode of one item, as lives with their looks and runs. */
import type { Age, LifeHistory, LookMark, RunMark } from "../../../analysis/index.ts";
import { dateOn, lastDay, seeded } from "./common.ts";

export interface Truth {
  readonly lives: number;
  readonly seed: number;
  readonly shape: number;
  readonly scale: number;
  readonly evident: boolean;
}

interface Open {
  runs: RunMark[];
  looks: LookMark[];
  age: number;
  vague: number;
}

const ageWith = (age: number, vague: number): Age => (vague > 0 ? [Math.max(0, age - vague), age + vague] : age);

/** Histories by serial, each from a redress to what ended knowledge of it. */
export function simulateHistories({ lives, seed, shape, scale, evident }: Truth): LifeHistory[] {
  const random = seeded(seed);
  const histories: LifeHistory[] = [];
  const serials = Math.max(4, Math.round(lives / 9));
  for (let index = 0; histories.length < lives; index++) {
    const serial = `AD650-${String((index % serials) + 1).padStart(3, "0")}`;
    const entry = random() < 0.05 ? 40 + Math.floor(random() * 120) : 0;
    // In mid-life only what had not failed before is seen: draw until the failure lies beyond the entry.
    let failure = 0;
    do failure = scale * (-Math.log(1 - random())) ** (1 / shape);
    while (failure <= entry);
    let day = 30 + random() * (lastDay - 330);
    const sinceOn = dateOn(day);
    const since = `R-${String(1001 + index)}`;
    const lifeId = `main seal|${evident ? "leak" : "extrusion"}|${serial}|${since}`;
    const open: Open = { runs: [], looks: [], age: entry, vague: 0 };
    const planned = 1 + Math.floor(random() * 4);
    const ends = (kind: LifeHistory["kind"], lower: Age, upper: Age | null, informative = false) =>
      histories.push({
        lifeId,
        serial,
        since,
        sinceOn,
        kind,
        lower,
        upper,
        entry,
        informative,
        looks: open.looks,
        runs: open.runs,
      });
    let sound: Age = entry;
    for (let segment = 0; ; segment++) {
      for (let run = 0; run < 1 + Math.floor(random() * 3); run++) {
        const hours = Math.round(2 * (22 + random() * 70)) / 2;
        const from = ageWith(open.age, open.vague);
        if (random() < 0.012) open.vague += hours / 3;
        const outOn = dateOn(day);
        day += 4 + hours / 12;
        open.age += hours;
        open.runs.push({
          row: { table: "runs", key: `["${since}-${open.runs.length + 1}"]` },
          outOn,
          inOn: dateOn(day),
          from,
          to: ageWith(open.age, open.vague),
        });
        day += 6 + random() * 20;
        if (evident && failure <= open.age) break;
      }
      const now = ageWith(open.age, open.vague);
      if (evident && failure <= open.age) {
        const exact = Math.round(failure);
        if (random() < 0.85) ends("exact", exact, exact);
        else ends("interval", open.runs.at(-1)?.from ?? 0, now);
        break;
      }
      const failed = !evident && failure <= open.age;
      const spoilt = random() < 0.03;
      open.looks.push({
        row: { table: "teardowns", key: `["T-${since}-${segment + 1}"]` },
        on: dateOn(day),
        age: now,
        found: spoilt ? "spoilt" : failed ? "failed" : random() < 0.7 ? "sound as written" : "sound by scope",
        informative: failed && random() < 0.3,
      });
      if (spoilt) {
        ends("right", sound, null);
        break;
      }
      if (failed) {
        const left = sound === 0;
        ends(left ? "left" : "interval", sound, now, open.looks.at(-1)?.informative ?? false);
        break;
      }
      sound = now;
      if (segment + 1 >= planned || day > lastDay - 40) {
        ends("right", now, null);
        break;
      }
    }
  }
  const end = (age: Age | null): number => (age === null ? 0 : typeof age === "number" ? age : age[1]);
  return histories.sort(
    (a, b) => end(a.upper ?? a.lower) - end(b.upper ?? b.lower) || a.lifeId.localeCompare(b.lifeId),
  );
}
