/** Hands bytes to the reader as a file. */
export function saveFile(name: string, content: Blob): void {
  const address = URL.createObjectURL(content);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** A file name out of words: "item life main seal" gives "item-life-main-seal.csv". */
export const fileName = (words: readonly (string | null)[], ending: string): string =>
  `${words
    .filter((word) => word !== null)
    .join(" ")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "")}.${ending}`;
