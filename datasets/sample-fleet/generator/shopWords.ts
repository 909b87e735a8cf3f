/** The shop's own phrases for a mode, first the most frequent. `sound` has phrases too. All invented. */
export const shopWords: Readonly<Record<string, readonly string[]>> = {
  extrusion: ["lip chewed", "nibbled on low side", "extruded"],
  leak: ["leaking", "passing fluid", "weeping at seal"],
  "compression set": ["taken a set", "flat", "set hard"],
  wear: ["worn", "worn through", "flats worn on it"],
  "back-off": ["backed off", "loose", "broke out by hand"],
  "shoulder leak": ["washed shoulder", "leaking at shoulder"],
  galling: ["threads galled", "picked up", "thread torn"],
  pitting: ["pits", "corrosion pits"],
  sound: ["ok", "good", "no damage"],
};

/** Phrases for why a tool was pulled. */
export const pulledWords = {
  planned: ["TD", "end of section", "bit trip"],
  "tool failure": ["tool failed", "our tool"],
  "other tool": ["other tool down", "MWD down"],
  "hole problem": ["tight hole", "stuck / hole"],
  "lost in hole": ["LIH"],
  other: ["other"],
  "not known": [""],
} as const;

export const teardownWhyWords = {
  planned: "routine",
  "tool failure": "failed tool",
  other: "check",
  "not known": "",
} as const;

export const redressWords = {
  new: ["new build"],
  planned: ["routine", "planned"],
  failure: ["failed tool", "failure"],
  upgrade: ["upgrade"],
  "not known": [""],
} as const;
