import { type NumberStyle, numberStyle } from "./cellText.ts";
import { attribute, readXml, XmlError } from "./xml.ts";

/** A tab as the workbook lists it; `part` is where its cells stand, null for a chart or a dialog. */
export interface Tab {
  readonly name: string;
  readonly hidden: boolean;
  readonly part: string | null;
}

export interface WorkbookParts {
  readonly tabs: readonly Tab[];
  readonly from1904: boolean;
  readonly strings: readonly string[];
  readonly styles: readonly NumberStyle[];
}

type Parts = ReadonlyMap<string, Uint8Array>;
const nothing = { open: () => undefined, close: () => undefined, text: () => undefined };

/** The list of tabs, the shared texts and the number formats of a workbook. Errors: `XmlError`. */
export function workbookParts(parts: Parts): WorkbookParts {
  const workbook = parts.get("xl/workbook.xml");
  if (workbook === undefined) throw new XmlError("it has no list of tabs");
  const targets = relations(parts.get("xl/_rels/workbook.xml.rels"));
  const tabs: Tab[] = [];
  let from1904 = false;
  readXml(workbook, {
    ...nothing,
    open(name, attributes) {
      if (name === "workbookPr") from1904 = /^(?:1|true|on)$/i.test(attribute(attributes, "date1904") ?? "");
      if (name !== "sheet") return;
      const id = relationId(attributes);
      const target = targets.get(id ?? "");
      const state = attribute(attributes, "state") ?? "visible";
      const part = target?.isSheet && parts.has(target.part) ? target.part : null;
      if (target?.isSheet && part === null)
        throw new XmlError(`the cells of the tab ${attribute(attributes, "name")} are missing`);
      tabs.push({
        name: (attribute(attributes, "name") ?? `tab ${tabs.length + 1}`).trim(),
        hidden: state !== "visible",
        part,
      });
    },
  });
  const named = (type: string) => [...targets.values()].find((target) => target.type === type)?.part;
  return {
    tabs,
    from1904,
    strings: sharedStrings(parts.get(named("sharedStrings") ?? "xl/sharedStrings.xml")),
    styles: numberStyles(parts.get(named("styles") ?? "xl/styles.xml")),
  };
}

interface Target {
  readonly part: string;
  readonly type: string;
  readonly isSheet: boolean;
}

function relations(bytes: Uint8Array | undefined): ReadonlyMap<string, Target> {
  const found = new Map<string, Target>();
  if (bytes === undefined) return found;
  readXml(bytes, {
    ...nothing,
    open(name, attributes) {
      const [id, target] = [attribute(attributes, "Id"), attribute(attributes, "Target")];
      if (name !== "Relationship" || id === null || target === null) return;
      const type = (attribute(attributes, "Type") ?? "").split("/").at(-1) ?? "";
      const part = target.startsWith("/") ? target.slice(1) : `xl/${target.replace(/^\.\//, "")}`;
      found.set(id, { part, type, isSheet: type === "worksheet" });
    },
  });
  return found;
}

/** The relation's id, under whichever prefix the file gives its namespace. */
function relationId(attributes: string): string | null {
  const prefix = /\s([\w.-]+):id\s*=/.exec(attributes)?.[1];
  return prefix === undefined ? null : attribute(attributes, `${prefix}:id`);
}

/** Rich text is joined; the pronunciation beside it is left out. */
export function sharedStrings(bytes: Uint8Array | undefined): readonly string[] {
  const strings: string[] = [];
  if (bytes === undefined) return strings;
  let [current, inText, spoken] = ["", false, 0];
  readXml(bytes, {
    open(name) {
      if (name === "si") current = "";
      else if (name === "t") inText = true;
      else if (name === "rPh") spoken += 1;
    },
    close(name) {
      if (name === "si") strings.push(unescaped(current));
      else if (name === "t") inText = false;
      else if (name === "rPh") spoken -= 1;
    },
    text(text) {
      if (inText && spoken === 0) current += text;
    },
  });
  return strings;
}

/** Signs that XML cannot hold are written _xHHHH_ (ECMA-376, Part 1, 22.9.2.19, ST_Xstring). */
export const unescaped = (text: string): string =>
  text.includes("_x")
    ? text.replace(/_x([0-9a-f]{4})_/gi, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)))
    : text;

function numberStyles(bytes: Uint8Array | undefined): readonly NumberStyle[] {
  const codes = new Map<number, string>();
  const ids: number[] = [];
  if (bytes === undefined) return [];
  let inCells = false;
  readXml(bytes, {
    ...nothing,
    open(name, attributes) {
      if (name === "numFmt")
        codes.set(Number(attribute(attributes, "numFmtId")), attribute(attributes, "formatCode") ?? "");
      else if (name === "cellXfs") inCells = true;
      else if (name === "xf" && inCells) ids.push(Number(attribute(attributes, "numFmtId") ?? 0));
    },
    close(name) {
      if (name === "cellXfs") inCells = false;
    },
  });
  return ids.map((id) => numberStyle(id, codes.get(id)));
}
