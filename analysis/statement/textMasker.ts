import type { MaskedKind } from "./types.ts";

export interface MaskedName {
  readonly kind: MaskedKind;
  readonly name: string;
  readonly alias: string;
}

/** What people write before a name that is one letter or figure. */
const kindWords: Readonly<Record<MaskedKind, string>> = {
  tool: "tool|serial",
  well: "well",
  rig: "rig",
  crew: "crew|shift",
  technician: "technician|tech|fitter|initials",
  lot: "lot|batch",
  customer: "customer|client",
  file: "sheet|file",
  record: "run|redress|build|teardown|job|no\\.?",
};

const start = "(?<![\\p{L}\\p{N}])";
const end = "(?![\\p{L}\\p{N}])";
/** How people join the parts of a name; a short one apart may be two words ("a 1 mm gap"). */
const betweenParts = (parts: readonly string[]): string => (parts.join("").length > 3 ? "[\\s_./-]?" : "[_./-]?");

interface Pattern {
  readonly source: string;
  readonly flags: string;
  readonly alias: string;
  /** What a text must hold for the pattern to be tried at all, without case and separators. */
  readonly core: string;
}

/**
 * Replaces names in a text that somebody wrote, where they stand whole; the longest first, so that "W-12" is not taken out
 * of "W-123".
 *
 * Conventions  A name with letters and figures is found in any case and however its parts are joined ("QX-101", "qx 101",
 *              "QX101"), one of several words in any case, the surname of "T. Nobody" alone too. A name of one letter is
 *              found after a word of its kind ("crew A", "built by K"), and a capital one wherever it is no word and no
 *              unit; a single figure only after a word of its kind. "A" or "3" alone stay: they say nobody's name.
 */
export function textMasker(names: readonly MaskedName[]): (text: string) => string {
  const patterns = [...names].sort((a, b) => b.name.length - a.name.length).flatMap(patternsOf);
  return (text) => {
    const core = coreOf(text);
    const found: { readonly from: number; readonly to: number; readonly alias: string }[] = [];
    for (const { source, flags, alias, core: needed } of patterns) {
      // Compiled only where it can match: a shop has thousands of names and a text holds a few.
      if (!core.includes(needed)) continue;
      for (const match of text.matchAll(new RegExp(source, flags))) {
        const [from, to] = [match.index, match.index + match[0].length];
        if (found.every((other) => to <= other.from || from >= other.to)) found.push({ from, to, alias });
      }
    }
    return found
      .sort((a, b) => b.from - a.from)
      .reduce((masked, { from, to, alias }) => masked.slice(0, from) + alias + masked.slice(to), text);
  };
}

function patternsOf({ kind, name, alias }: MaskedName): readonly Pattern[] {
  const trimmed = name.trim();
  const pattern = (source: string, flags: string, of = trimmed): Pattern => ({
    source,
    flags,
    alias,
    core: coreOf(of),
  });
  if ([...trimmed].length < 2) return singlePatterns(kind, trimmed, pattern);
  const parts = trimmed.match(/\p{L}+|\p{N}+/gu) ?? [];
  const coded = /\p{L}/u.test(trimmed) && /\p{N}/u.test(trimmed);
  const words = trimmed.split(/\s+/).map(escaped);
  const asWritten = words.join("\\s+");
  if (coded) return [pattern(`${start}(?:${asWritten}|${parts.join(betweenParts(parts))})${end}`, "giu")];
  const whole = pattern(`${start}${asWritten}${end}`, words.length > 1 ? "giu" : "gu");
  const surname = /^(?:\p{Lu}\.?\s*)+\s(\p{Lu}\p{Ll}{2,})$/u.exec(trimmed)?.[1];
  return surname === undefined ? [whole] : [whole, pattern(`${start}${surname}${end}`, "gu", surname)];
}

function singlePatterns(
  kind: MaskedKind,
  name: string,
  pattern: (source: string, flags: string) => Pattern,
): readonly Pattern[] {
  if (!/[\p{L}\p{N}]/u.test(name)) return [];
  const words = anyCase(kindWords[kind]);
  const after = pattern(`${start}(?:${words})\\s*[#:]?\\s*${name}${end}`, "gu");
  const by = pattern(`(?<=(?:^|\\s)[Bb]y\\s)${name}${end}`, "gu");
  const standing = pattern(`(?<![\\p{L}\\p{N}°.'’-]|[\\p{N}°]\\s)${name}(?![\\p{L}\\p{N}'’-])`, "gu");
  if (!/\p{Lu}/u.test(name)) return [after];
  return /^[AI]$/.test(name) ? [after, by] : [after, by, standing];
}

const escaped = (text: string): string => text.replace(/[\\^$.*+?()[\]{}|/]/g, "\\$&");
const anyCase = (words: string): string =>
  words.replace(/\p{L}/gu, (letter) => `[${letter.toLowerCase()}${letter.toUpperCase()}]`);

/** A text as names are compared: lower case, letters and figures only. */
const coreOf = (text: string): string => text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "");
