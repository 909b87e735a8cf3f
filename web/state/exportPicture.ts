/** A drawn chart as a file. Charts write presentation attributes only, so the nodes on the page are the picture. */
import regular from "source-sans/WOFF2/TTF/SourceSans3-Regular.ttf.woff2?url";
import semibold from "source-sans/WOFF2/TTF/SourceSans3-Semibold.ttf.woff2?url";
import { saveFile } from "./saveFile.ts";

const namespace = "http://www.w3.org/2000/svg";

export function saveSvg(picture: SVGSVGElement, name: string): void {
  saveFile(name, new Blob([textOf(standalone(picture))], { type: "image/svg+xml" }));
}

/** Draws at twice the size on the page, with the page's own typeface inside the picture. */
export async function savePng(picture: SVGSVGElement, name: string): Promise<void> {
  saveFile(name, await pngOf(picture));
}

/** Puts a picture and the sentence that it shows on the clipboard: where a picture can be pasted it is pasted, else the sentence. */
export async function copyPicture(picture: SVGSVGElement, sentence: string): Promise<void> {
  // The picture is promised, not awaited: a clipboard may only be written within the reader's click.
  await navigator.clipboard.write([
    new ClipboardItem({ "image/png": pngOf(picture), "text/plain": new Blob([sentence], { type: "text/plain" }) }),
  ]);
}

async function pngOf(picture: SVGSVGElement): Promise<Blob> {
  const copy = standalone(picture);
  const style = document.createElementNS(namespace, "style");
  style.textContent = await fontRules();
  copy.prepend(style);
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(textOf(copy))}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = Number(copy.getAttribute("width")) * 2;
  canvas.height = Number(copy.getAttribute("height")) * 2;
  canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
  const file = await new Promise<Blob | null>((done) => canvas.toBlob(done, "image/png"));
  if (file === null) throw new Error("This browser could not draw the picture as PNG; save it as SVG instead.");
  return file;
}

function standalone(picture: SVGSVGElement): SVGSVGElement {
  const copy = picture.cloneNode(true) as SVGSVGElement;
  copy.setAttribute("xmlns", namespace);
  copy.setAttribute("text-rendering", "geometricPrecision");
  for (const mark of copy.querySelectorAll("[tabindex]")) mark.removeAttribute("tabindex");
  return copy;
}

const textOf = (picture: SVGSVGElement) => new XMLSerializer().serializeToString(picture);

async function fontRules(): Promise<string> {
  const faces = [
    { address: regular, weight: 400 },
    { address: semibold, weight: 600 },
  ];
  const rules = await Promise.all(
    faces.map(async ({ address, weight }) => {
      const bytes = await (await fetch(address)).blob();
      return `@font-face{font-family:"Source Sans 3";font-weight:${weight};src:url("${await dataAddress(bytes)}") format("woff2")}`;
    }),
  );
  return rules.join("");
}

const dataAddress = (bytes: Blob): Promise<string> =>
  new Promise((done, fail) => {
    const reader = new FileReader();
    reader.onload = () => done(String(reader.result));
    reader.onerror = () => fail(reader.error ?? new Error("The typeface could not be read."));
    reader.readAsDataURL(bytes);
  });
