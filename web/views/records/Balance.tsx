import { type DropPreview, formatExact } from "../../../analysis/index.ts";

/** Every line of the drop in one of four places: the counts add up, and nothing is dropped silently. */
export function Balance({ counts }: { readonly counts: DropPreview["counts"] }) {
  const parts = [
    ["new", counts.new],
    ["unchanged", counts.unchanged],
    ["changed", counts.changed],
    ["set aside", counts.setAside],
  ] as const;
  return (
    <dl class="balance">
      <div>
        <dt>{counts.lines === 1 ? "line" : "lines"}</dt>
        <dd>{formatExact(counts.lines)}</dd>
      </div>
      {parts.map(([name, count], index) => (
        <div key={name} data-sign={index === 0 ? "=" : "+"} data-none={count === 0} data-part={name}>
          <dt>{name}</dt>
          <dd>{formatExact(count)}</dd>
        </div>
      ))}
    </dl>
  );
}
