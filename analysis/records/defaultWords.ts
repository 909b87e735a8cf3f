import type { VocabularyName, WordList } from "./mapping.ts";
import { modeCatalogue } from "./modeCatalogue.ts";
import { normalisePhrase } from "./normalisePhrase.ts";

type Meaning = string | number | boolean | null;

/** Phrases of a shop for one meaning; the meaning's own name is always one of them. */
const vocabulary = (entries: readonly (readonly [Meaning, ...string[]])[]): Readonly<Record<string, Meaning>> =>
  Object.fromEntries(
    entries.flatMap(([meaning, ...phrases]) =>
      (typeof meaning === "string" ? [meaning, ...phrases] : phrases).map((phrase) => [
        normalisePhrase(phrase),
        meaning,
      ]),
    ),
  );

const conditions = vocabulary([
  [
    "sound",
    "ok",
    "okay",
    "good",
    "as new",
    "no damage",
    "no wear",
    "no fault",
    "no fault found",
    "nff",
    "none",
    "nil",
    "fine",
    "clean",
    "no findings",
    "pass",
    "i o",
    "in ordnung",
  ],
  [null, "not checked", "not looked at", "not inspected"],
  ...modeCatalogue.map((entry): readonly [Meaning, ...string[]] => [entry.mode, ...entry.words]),
]);

/**
 * The words a shop starts from: common phrases of the trade, English first, a few German. Source: common practice, no
 * source. A shop's own words are added to these as it confirms them, and take their place where both know a phrase.
 */
export const defaultWords: WordList = {
  version: 0,
  vocabularies: {
    conditions,
    items: vocabulary([]),
    "redress reasons": vocabulary([
      ["new", "new build", "new tool", "first build", "build", "neu", "neubau", "initial build"],
      [
        "planned",
        "routine",
        "scheduled",
        "maintenance",
        "redress",
        "interval",
        "planmässig",
        "planmäßig",
        "wartung",
        "hours up",
      ],
      [
        "failure",
        "failed",
        "failed tool",
        "repair",
        "breakdown",
        "tool failure",
        "ausfall",
        "reparatur",
        "leak",
        "came back failed",
      ],
      ["upgrade", "modification", "mod", "retrofit", "umbau"],
      ["not known", "unknown"],
    ]),
    "pulled because": vocabulary([
      [
        "planned",
        "td",
        "section td",
        "end of section",
        "end of run",
        "bit trip",
        "trip for bit",
        "trip",
        "bha change",
        "planned trip",
        "casing point",
        "planmässig",
        "planmäßig",
        "job done",
        "end of job",
        "completed",
      ],
      [
        "tool failure",
        "tool failed",
        "our tool",
        "failure",
        "failed",
        "dht failure",
        "ausfall",
        "leaking",
        "werkzeugausfall",
      ],
      [
        "other tool",
        "other tool down",
        "other tool failed",
        "mwd down",
        "mwd failure",
        "motor failure",
        "motor",
        "mwd",
        "anderes werkzeug",
        "other equipment",
        "other vendor",
      ],
      [
        "hole problem",
        "tight hole",
        "stuck",
        "stuck hole",
        "stuck pipe",
        "lost circulation",
        "losses",
        "hole problems",
        "pack off",
        "kick",
        "bohrloch",
        "bohrlochproblem",
      ],
      ["lost in hole", "lih", "lost", "left in hole", "verloren"],
      ["other", "weather", "rig repair", "rig", "sonstiges"],
      ["not known", "unknown", "unbekannt"],
    ]),
    "teardown why": vocabulary([
      [
        "planned",
        "routine",
        "scheduled",
        "maintenance",
        "planned redress",
        "interval",
        "planmässig",
        "planmäßig",
        "hours up",
      ],
      [
        "tool failure",
        "failure",
        "failed",
        "tool failed",
        "failure investigation",
        "ausfall",
        "came back failed",
        "repair",
      ],
      ["other", "customer request", "investigation", "audit", "sonstiges", "upgrade"],
      ["not known", "unknown"],
    ]),
    "teardown kind": vocabulary([
      ["stripped", "full", "full strip", "strip", "stripdown", "strip down", "teardown", "complete", "zerlegt"],
      ["pressure test", "test", "bench test", "function test", "drucktest"],
      ["outside only", "visual", "external", "outside", "visual only", "external visual", "sichtprüfung"],
    ]),
    "tool status": vocabulary([
      ["in shop", "shop", "in", "available", "ready", "in stock", "werkstatt", "yard"],
      ["out", "on job", "in field", "rig", "out on job", "im feld", "field", "shipped"],
      ["lost in hole", "lih", "lost", "verloren"],
      ["scrapped", "scrap", "retired", "verschrottet", "written off"],
      ["not known", "unknown", "missing"],
    ]),
    "hours kind": vocabulary([
      ["circulating", "circ", "circ h", "circulation", "pumping", "circulating hours"],
      ["drilling", "drill", "on bottom", "rotating", "drilling hours"],
      ["below rotary", "brt", "below rotary table", "in hole", "in hole hours"],
    ]),
    "pressure test": vocabulary([
      ["pass", "ok", "passed", "good", "yes", "held", "p", "bestanden", "i o"],
      ["fail", "failed", "no", "leak", "leaked", "f", "nicht bestanden", "n i o"],
      ["not done", "none", "not tested", "n t"],
    ]),
    "yes or no": vocabulary([
      [true, "yes", "y", "true", "1", "x", "new", "renewed", "replaced", "ja", "j", "neu", "changed", "erneuert", "✓"],
      [
        false,
        "no",
        "n",
        "false",
        "0",
        "old",
        "reused",
        "re used",
        "kept",
        "nein",
        "carried over",
        "refitted",
        "alt",
        "same",
        "not replaced",
        "used",
      ],
    ]),
    severity: vocabulary([
      [0, "as new", "0 none"],
      [1, "cosmetic", "minor", "light"],
      [2, "degraded", "moderate", "medium"],
      [3, "major", "heavy", "severe"],
      [4, "failed", "failure"],
      [5, "critical"],
    ]),
  },
};

/** The words of the shop over those it starts from. Phrases are normalised; the shop's version number is kept. */
export function withWords(base: WordList, more: WordList["vocabularies"], version = base.version): WordList {
  const names = new Set([...Object.keys(base.vocabularies), ...Object.keys(more)]) as Set<VocabularyName>;
  return {
    version,
    vocabularies: Object.fromEntries(
      [...names].map((name) => {
        const added = Object.entries(more[name] ?? {}).map(
          ([phrase, meaning]) => [normalisePhrase(phrase), meaning] as const,
        );
        return [name, Object.fromEntries([...Object.entries(base.vocabularies[name] ?? {}), ...added])];
      }),
    ),
  };
}
