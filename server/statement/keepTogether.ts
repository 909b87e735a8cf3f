/** A number and its unit stay on one line: no-break spaces before per cent signs and units. */
export const keepTogether = (text: string): string =>
  text.replace(/(?<=[\d½¼¾]) (?=(?:%|h|in|ft|ft-lbf|N·m)(?![\p{L}\d]))/gu, "\u00A0");
