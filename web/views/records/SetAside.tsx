import { countOf, nameOfSheet } from "../../../analysis/index.ts";

interface SetAsideProps {
  readonly sheets: readonly { readonly file: string; readonly sheet: string | null; readonly setAside: number }[];
  /** Where the lines of a sheet can be had. */
  readonly addressOf: (file: string, tab: string | null) => string;
}

/** Lines set aside, sheet by sheet, in the shape in which they can be mended and dropped again. */
export function SetAside({ sheets, addressOf }: SetAsideProps) {
  const aside = sheets.filter(({ setAside }) => setAside > 0);
  if (aside.length === 0) return null;
  return (
    <div>
      <ul class="set-aside">
        {aside.map((sheet) => (
          <li key={nameOfSheet(sheet)}>
            <a href={addressOf(sheet.file, sheet.sheet)} download>
              {countOf(sheet.setAside, "line")} of {nameOfSheet(sheet)}, to mend (CSV)
            </a>
          </li>
        ))}
      </ul>
      <p class="small muted">
        They keep their columns, with what is wrong at the right. Mend them there and drop the file in: it is read like
        the sheet it came from.
      </p>
    </div>
  );
}
