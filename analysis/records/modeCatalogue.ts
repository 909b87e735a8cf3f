import type { Row } from "./descriptor.ts";

export type ItemKind = Row<"tool_items">["kind"];

/** A failure mode as the trade knows it, before a shop has said anything about its own. */
export interface CatalogueMode {
  readonly mode: string;
  readonly kinds: readonly ItemKind[];
  readonly announces: "evident" | "hidden";
  readonly threshold: number;
  readonly restoredBy: "renewed" | "made up";
  readonly leadsTo: string | null;
  /** Phrases that mean this mode, beside its own name. */
  readonly words: readonly string[];
}

const seals: readonly ItemKind[] = ["seal", "stack"];

/**
 * Failure modes by kind of item.
 *
 * Source       Mode names and appearance: common seal-failure guides and shop practice; mechanism groups behind them:
 *              ISO 14224:2016, Table B.2. Which modes announce themselves, what restores them, and the threshold
 *              (severity 3: leaking or out of limits, but did its job this run) are common practice, no source; a
 *              person confirms them for the shop.
 * Conventions  A mode that leads to another is listed before it. Hidden unless a leak or a parting shows while running.
 */
export const modeCatalogue: readonly CatalogueMode[] = [
  mode("extrusion", seals, "leak", [
    "extruded",
    "nibbled",
    "nibbling",
    "chewed",
    "lip chewed",
    "chewed lip",
    "chewed edge",
    "ragged edge",
    "extrusion nibbling",
    "nibbled on low side",
  ]),
  mode("spiral failure", ["seal"], "leak", ["spiral", "spiral cut", "spiral cuts", "rolled and cut", "twisted"]),
  mode("gas decompression", seals, "leak", [
    "blistered",
    "blisters",
    "explosive decompression",
    "rapid gas decompression",
    "rgd",
  ]),
  mode("compression set", seals, "leak", [
    "set",
    "taken a set",
    "took a set",
    "flat",
    "flattened",
    "set hard",
    "comp set",
  ]),
  mode("hardening", seals, "leak", ["hard", "hardened", "cracked rubber", "heat cracked", "heat hardened", "brittle"]),
  mode("swelling", seals, "leak", ["swollen", "swelled", "soft", "softened", "swell"]),
  mode("bond failure", ["stack", "seal"], "leak", ["chunked", "chunking", "debonded", "bond gone", "rubber missing"]),
  mode("installation damage", seals, "leak", [
    "cut",
    "nicked",
    "cut on assembly",
    "cut at fitting",
    "pinched",
    "rolled",
  ]),
  mode("backup ring damage", seals, "extrusion", [
    "backup split",
    "backup broken",
    "backup ring split",
    "backup feathered",
  ]),
  {
    ...mode("leak", ["seal", "stack"], null, [
      "leaking",
      "leaked",
      "leaks",
      "passing",
      "passing fluid",
      "weeping",
      "seep",
      "seeping",
      "mud in oil",
    ]),
    announces: "evident",
  },
  mode("wear", ["seal", "stack", "pin", "guide", "body"], null, [
    "worn",
    "worn out",
    "worn through",
    "worn flat",
    "wear through",
    "abrasion",
    "abraded",
    "flats worn",
    "flats on pin",
    "grooved",
    "scored",
    "slot oval",
  ]),
  mode("shear", ["pin"], null, ["sheared", "pin sheared", "broken pin", "pin broken"]),
  {
    ...mode("back-off", ["joint"], null, [
      "backed off",
      "backoff",
      "loose",
      "came loose",
      "broke out by hand",
      "unscrewed",
    ]),
    restoredBy: "made up",
  },
  {
    ...mode("shoulder leak", ["joint"], null, [
      "washed shoulder",
      "leaking at shoulder",
      "shoulder washed",
      "shoulder leaking",
      "fretted shoulder",
    ]),
    announces: "evident",
    restoredBy: "made up",
  },
  mode("galling", ["joint"], null, [
    "galled",
    "threads galled",
    "galled threads",
    "picked up",
    "thread torn",
    "torn threads",
    "seized",
  ]),
  mode("over-torque", ["joint"], null, [
    "stretched pin",
    "pin stretched",
    "belled box",
    "box belled",
    "box swollen",
    "over torqued",
  ]),
  mode("washout", ["joint", "body"], null, ["washed out", "washed", "wash out", "eroded", "erosion"]),
  mode("pitting", ["body", "guide"], null, ["pits", "pitted", "corrosion pits", "corroded", "corrosion", "rust"]),
  mode("coating damage", ["body"], null, [
    "coating flaked",
    "flaking",
    "plating gone",
    "chrome flaked",
    "plating damage",
  ]),
  mode("fatigue crack", ["body", "joint", "pin"], null, [
    "crack",
    "cracked",
    "crack indication",
    "fatigue",
    "fatigued",
  ]),
  mode("plugging", ["body"], null, ["plugged", "packed off", "contaminated", "solids packed"]),
];

function mode(
  name: string,
  kinds: readonly ItemKind[],
  leadsTo: string | null,
  words: readonly string[],
): CatalogueMode {
  return { mode: name, kinds, announces: "hidden", threshold: 3, restoredBy: "renewed", leadsTo, words };
}

/** The catalogue's entry of a mode, or null where the trade list has none of that name. */
export const catalogueMode = (name: string): CatalogueMode | null =>
  modeCatalogue.find((entry) => entry.mode === name) ?? null;
