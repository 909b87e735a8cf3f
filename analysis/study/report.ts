/** Told how far a long question is, 0 to 1, and what it is doing; it changes no answer. */
export type Report = (share: number, doing: string) => void;

export const silent: Report = () => undefined;

/** A part of a question reports its own share; the whole hears where that part stands in it. */
export const within =
  (report: Report, from: number, to: number): Report =>
  (share, doing) =>
    report(from + (to - from) * share, doing);
