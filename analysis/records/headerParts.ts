import { normalisePhrase } from "./normalisePhrase.ts";
import { unitOf } from "./units.ts";

/** A header taken apart: what it says without its unit, the unit, and the joints it names. */
export interface HeaderParts {
  readonly header: string;
  /** Words without the unit and without the joints, normalised. */
  readonly words: readonly string[];
  /** The same with the unit's words, for headers that are a unit and little else ("Circ hrs"). */
  readonly allWords: readonly string[];
  /** Unit by its name in the descriptor, null where the header names none. */
  readonly unit: string | null;
  /** "J1", or several for "Torque J1-J4"; a number alone ("Torque 3") is kept in `number`. */
  readonly joints: readonly string[];
  readonly number: number | null;
}

const fillWords = new Set(["of", "the", "a", "for", "was", "is", "der", "die", "das", "am"]);

/**
 * Takes a header apart. "Torque J1 (ft-lbf)" is the words "torque", the unit ft-lbf, the joint J1; "BHT degF" is "bht"
 * in °F; "Torque J1-J4" names four joints; "Torque 3" has the number 3.
 */
export function headerParts(header: string): HeaderParts {
  const bracketed = /[([]([^)\]]*)[)\]]/.exec(header);
  const inside = bracketed === null ? null : unitOf(bracketed[1] ?? "");
  const outside = inside === null ? header : header.replace(bracketed?.[0] ?? "", " ");
  const { text, joints } = takeJoints(outside);
  const all = normalisePhrase(text.replace(/#/g, " no ").replace(/&/g, " ")).split(" ");
  const telling = all.filter((word) => !fillWords.has(word));
  const written = telling.length === 0 ? all : telling;
  const { words, unit } = takeTrailingUnit(written, inside);
  const last = words.at(-1);
  const number =
    joints.length === 0 && words.length > 1 && last !== undefined && /^\d{1,2}$/.test(last) ? Number(last) : null;
  return {
    header,
    words: (number === null ? words : words.slice(0, -1)).filter((word) => word !== ""),
    allWords: inside === null ? written : words,
    unit,
    joints,
    number,
  };
}

function takeJoints(text: string): { readonly text: string; readonly joints: readonly string[] } {
  const range =
    /\b(?:j|jt|jnt|joints?|conn(?:ections?)?|verbindung(?:en)?)\.?\s*#?(\d{1,2})\s*(?:-|–|to|bis|\.\.)\s*(?:j|joint|conn)?\s*(\d{1,2})\b/i.exec(
      text,
    );
  const [from, to] = [Number(range?.[1]), Number(range?.[2])];
  if (range !== null && to > from && to - from < 20) {
    return {
      text: text.replace(range[0], " "),
      joints: Array.from({ length: to - from + 1 }, (_, i) => `J${from + i}`),
    };
  }
  const joints: string[] = [];
  const rest = text.replace(
    /\b(?:j|jt|jnt|joint|conn(?:ection)?|verbindung)[.\s_-]*#?(\d{1,2})\b/gi,
    (_, digits: string) => {
      joints.push(`J${Number(digits)}`);
      return " ";
    },
  );
  return { text: rest, joints: [...new Set(joints)] };
}

function takeTrailingUnit(
  words: readonly string[],
  inside: string | null,
): { words: readonly string[]; unit: string | null } {
  const kept = words;
  if (inside !== null) return { words: kept, unit: inside };
  for (const length of [2, 1]) {
    if (kept.length <= length) continue;
    const unit = unitOf(kept.slice(-length).join(" "));
    if (unit !== null && unit !== "g rms") return { words: kept.slice(0, -length), unit };
  }
  return { words: kept, unit: null };
}
