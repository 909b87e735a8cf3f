import type {
  Figure,
  Inline,
  StatementBlock,
  StatementCell,
  StatementDocument,
  StatementTable,
} from "../../../analysis/index.ts";
import type { StatementIssue } from "../issue.ts";
import { keepTogether } from "../keepTogether.ts";
import { sayIssue } from "../sayIssue.ts";
import { pageStyle } from "./pageStyle.ts";

interface StatementPageProps {
  readonly document: StatementDocument;
  readonly issue: StatementIssue;
  /** Pictures as SVG text, by id. */
  readonly pictures: ReadonlyMap<string, string>;
  /** Rules that bring the typeface along. */
  readonly fontFaces: string;
}

/** A statement as one page that needs nothing else: no script, no font and no picture is fetched. */
export function StatementPage({ document, issue, pictures, fontFaces }: StatementPageProps) {
  const { title, subtitle, summary, sections, marking } = document;
  return (
    <html lang="en">
      <head>
        <meta charset="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{`${title}: ${subtitle}`}</title>
        <style dangerouslySetInnerHTML={{ __html: `${fontFaces}${pageStyle}` }} />
      </head>
      <body>
        <main>
          <header>
            <h1>{title}</h1>
            <p class="subtitle">{subtitle}</p>
            {marking === null ? null : <p class="marking">{marking}</p>}
            <p class="issue">{sayIssue(issue)}</p>
          </header>
          <section class="summary" aria-labelledby="in-short">
            <h2 id="in-short">In short</h2>
            <ul>
              {summary.map((text, index) => (
                <li key={index}>
                  <Sentence text={text} />
                </li>
              ))}
            </ul>
          </section>
          <nav aria-label="Contents">
            <h2>Contents</h2>
            <ol>
              {sections.map(({ id, title: name }) => (
                <li key={id}>
                  <a href={`#${id}`}>{name}</a>
                </li>
              ))}
              {issue.changes.length === 0 ? null : (
                <li>
                  <a href="#changes">What changed since the last statement</a>
                </li>
              )}
            </ol>
          </nav>
          {sections.map(({ id, title: name, blocks }) => (
            <section key={id} aria-labelledby={id}>
              <h2 id={id}>{name}</h2>
              {blocks.map((block, index) => (
                <Block key={index} block={block} pictures={pictures} />
              ))}
            </section>
          ))}
          {issue.changes.length === 0 ? null : (
            <section aria-labelledby="changes">
              <h2 id="changes">What changed since the last statement</h2>
              <ul>
                {issue.changes.map((change) => (
                  <li key={change}>{change}</li>
                ))}
              </ul>
            </section>
          )}
          <footer>
            Content {document.contentHash}, records {document.dataHash.slice(0, 16)}, engine {document.engineVersion}.
          </footer>
        </main>
      </body>
    </html>
  );
}

function Block({
  block,
  pictures,
}: {
  readonly block: StatementBlock;
  readonly pictures: ReadonlyMap<string, string>;
}) {
  switch (block.kind) {
    case "paragraph":
      return (
        <p>
          <Sentence text={block.text} />
        </p>
      );
    case "list":
      return <Sentences items={block.items} />;
    case "caution":
      return (
        <div class="caution">
          <h3>{block.title}</h3>
          <Sentences items={block.items} />
        </div>
      );
    case "table":
      return <Table table={block} />;
    case "picture":
      return (
        <figure>
          <div dangerouslySetInnerHTML={{ __html: pictures.get(block.id) ?? "" }} />
          <From result={block.result} as="figcaption" />
        </figure>
      );
  }
}

const Sentences = ({ items }: { readonly items: readonly Inline[] }) => (
  <ul>
    {items.map((text, index) => (
      <li key={index}>
        <Sentence text={text} />
      </li>
    ))}
  </ul>
);

/** Every figure in a sentence carries its value and the result it comes from. */
function Sentence({ text }: { readonly text: Inline }) {
  return (
    <>
      {text.map((part, index) => (typeof part === "string" ? keepTogether(part) : <Said key={index} figure={part} />))}
    </>
  );
}

/** A number as it is said, with what it is; one that is not there has no value. */
function Said({ figure: { text, value, result } }: { readonly figure: Figure }) {
  const from = { "data-result": result, title: `Result ${result}` };
  return value === null ? (
    <span {...from}>{keepTogether(text)}</span>
  ) : (
    <data value={String(value)} {...from}>
      {keepTogether(text)}
    </data>
  );
}

function Table({ table }: { readonly table: StatementTable }) {
  const { id, title, columns, rows, note, result } = table;
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a table wider than the page must scroll by keyboard. */}
      <section class="scroll" tabIndex={0} aria-label={title} id={`table-${id}`}>
        <table>
          <caption>{title}</caption>
          <thead>
            <tr>
              {columns.map(({ title: heading, kind }) => (
                <th key={heading} scope="col" class={kind === "number" ? "n" : undefined}>
                  {heading}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, index) => (
              <tr key={index}>
                {row.map((cell, at) => (
                  <Cell key={at} cell={cell} result={result} />
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      {note === null ? null : <p class="note">{note}</p>}
      <From result={result} as="p" />
    </>
  );
}

function Cell({ cell, result }: { readonly cell: StatementCell; readonly result: string }) {
  if (typeof cell === "string") return <td>{cell}</td>;
  return (
    <td class="n">
      <Said figure={{ ...cell, result }} />
    </td>
  );
}

function From({ result, as }: { readonly result: string; readonly as: "p" | "figcaption" }) {
  return as === "p" ? <p class="from">Result {result}</p> : <figcaption>Result {result}</figcaption>;
}
