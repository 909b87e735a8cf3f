import { Resvg } from "@resvg/resvg-js";
import { fontFiles } from "./fonts.ts";

/** An SVG picture as PNG at twice its size, in the statement's own typeface. */
export function drawPng(svg: string): Uint8Array {
  return new Uint8Array(
    new Resvg(svg, {
      fitTo: { mode: "zoom", value: 2 },
      font: {
        loadSystemFonts: false,
        fontFiles: [fontFiles.regular, fontFiles.semibold],
        defaultFontFamily: "Source Sans 3",
      },
    })
      .render()
      .asPng(),
  );
}
