/** Where a number could move a decision. */
export type CautionKind =
  | "life"
  | "torque"
  | "seal"
  | "interval"
  | "dispatch"
  | "teardown"
  | "pressure test"
  | "chemicals"
  | "lifting";

const advice = "Advice only. The maker's manual, local codes and licensed practice govern; nothing here clears a tool.";

const more: Readonly<Record<CautionKind, readonly string[]>> = {
  life: ["These numbers describe what was recorded, not what the next tool will do."],
  torque: [
    "Torque is not proof of preload: friction scatters more than the torque tool does.",
    "Change a torque value only under engineering change control.",
    "Keep hands and loose clothing away from jaws and tongs; a galled or backed-off joint may release suddenly.",
  ],
  seal: ["Change a seal or compound only under engineering change control, against the maker's limits."],
  interval: ["Change a redress interval only under engineering change control; use the lower bound, not the middle."],
  dispatch: ["Decide on inspection and the maker's limits first; a number of this kind never clears a tool."],
  teardown: [
    "Assume trapped pressure behind seals, in oil chambers and between failed seals; vent by the manual, nobody in line of plugs or ends.",
    "Compressed stacks and springs store energy: press with a guard and release under control.",
    "Gas-soaked elastomers may blister or burst after the pressure is off.",
  ],
  "pressure test": [
    "Barricade, read from a distance, test with liquid wherever possible, and prove zero before touching.",
  ],
  chemicals: [
    "Safety data sheets govern. Never touch charred fluoroelastomer with bare hands.",
    "Thread compounds may hold lead, zinc or copper; lockers and solvents irritate and burn.",
  ],
  lifting: ["Rated gear, off-centre load, no hands or people under it."],
};

/**
 * Cautions to print where a number of this kind stands: first that it is advice only, then what the shop floor knows.
 * Source  Usual shop cautions (common practice, no source); that the manual and codes govern is this project's own rule.
 */
export function sayCautions(kind: CautionKind): readonly string[] {
  return [advice, ...more[kind]];
}
