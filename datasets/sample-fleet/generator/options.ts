/** What a simulated fleet contains: every effect and every kind of dirt is a switch of its own. */

/** What makes one life longer or shorter than another. Off: all lives of a mode follow one law. */
export interface FleetEffects {
  /** Final torque over design torque acts on back-off and shoulder leak. */
  readonly torque: boolean;
  /** Make-and-break cycles before the final torque act on galling of new threads. */
  readonly cycles: boolean;
  /** A compound's friction factor changes what the torque achieves where the target was not corrected for it. */
  readonly compound: boolean;
  /** Threadlocker acts on back-off. */
  readonly locker: boolean;
  /** Some seal lots are bad. */
  readonly sealLot: boolean;
  readonly hardness: boolean;
  readonly gap: boolean;
  /** Temperature of a run makes its hours count more or less for compression set and extrusion. */
  readonly temperature: boolean;
  /** Vibration of a run makes its hours count more or less for back-off and pin wear. */
  readonly vibration: boolean;
  /** Tool-to-tool spread: a gamma factor a serial, the same for all its modes. */
  readonly toolSpread: boolean;
  readonly size: boolean;
  /** A backed-off joint sometimes galls as a consequence. */
  readonly consequences: boolean;
  /** Degraded items are renewed before they fail: looks then inform about what comes, and censoring is informative. */
  readonly renewDegraded: boolean;
}

/** What goes wrong in the records. The first group happens in the shop's world, the second is planted in the sheets. */
export interface FleetDirt {
  /** Some tools were in use before the records begin. */
  readonly midLifeEntry: boolean;
  readonly lostInHole: boolean;
  /** A leak nobody reported: the tool comes in as planned and is found leaking. */
  readonly leakingCodedPlanned: boolean;
  /** Some tools come back and are never torn down. */
  readonly notTornDown: boolean;
  /** Sound items in the checklist are often not written down. */
  readonly soundUnwritten: boolean;
  readonly lateReports: boolean;
  /** Used pins go from one tool into another. */
  readonly swappedItems: boolean;
  /** A failure is seen in a run but the hour is not noted. */
  readonly hourNotNoted: boolean;
  /** Tool failures with no item named. */
  readonly maskedFailures: boolean;
  /** A failed pin or band is now and then refitted as it is. */
  readonly refittedFailed: boolean;
  /** Some builds fail their pressure test and are rebuilt before going out. */
  readonly buildRejects: boolean;

  readonly missingHours: boolean;
  /** "0" for a run of several days. */
  readonly zeroHours: boolean;
  /** Hours rounded to tens. */
  readonly heapedHours: boolean;
  /** "good tight" in a torque cell. */
  readonly torqueAsText: boolean;
  /** N·m written in a ft-lbf column. */
  readonly newtonMetres: boolean;
  /** degC written in a degF column. */
  readonly celsius: boolean;
  readonly duplicateRuns: boolean;
  readonly splitRuns: boolean;
  /** Runs left out of the log: a teardown without run. */
  readonly runsMissing: boolean;
  /** Build sheets lost: runs without build. */
  readonly buildsMissing: boolean;
  /** A teardown written under another tool's serial. */
  readonly swappedSerials: boolean;
  readonly blankReasons: boolean;
  /** "other" by habit. */
  readonly habitOther: boolean;
}

export interface FleetOptions {
  readonly seed: number;
  readonly effects: FleetEffects;
  readonly dirt: FleetDirt;
  /** Number of tools; two in three are of the first tool type. */
  readonly serials: number;
  /** Slope of back-off by torque instead of the usual one (`effectTruths.torqueSlope`): for studies of a stated effect. */
  readonly torqueSlope?: number;
  /** Eight crews instead of the usual technicians: four make up low and work for rough wells, four as designed for mild ones. */
  readonly confounded?: {
    /** Share of the crews that make up either way, build by build: 0 confounds practice with crew and well altogether. */
    readonly mixedCrews: number;
  };
  /** First and last day of the records, `YYYY-MM-DD`. */
  readonly from: string;
  readonly to: string;
}

export const effectsOn: FleetEffects = {
  torque: true,
  cycles: true,
  compound: true,
  locker: true,
  sealLot: true,
  hardness: true,
  gap: true,
  temperature: true,
  vibration: true,
  toolSpread: true,
  size: true,
  consequences: true,
  renewDegraded: false,
};

export const effectsOff: FleetEffects = {
  torque: false,
  cycles: false,
  compound: false,
  locker: false,
  sealLot: false,
  hardness: false,
  gap: false,
  temperature: false,
  vibration: false,
  toolSpread: false,
  size: false,
  consequences: false,
  renewDegraded: false,
};

export const dirtOn: FleetDirt = {
  midLifeEntry: true,
  lostInHole: true,
  leakingCodedPlanned: true,
  notTornDown: true,
  soundUnwritten: true,
  lateReports: true,
  swappedItems: true,
  hourNotNoted: true,
  maskedFailures: true,
  refittedFailed: true,
  buildRejects: true,
  missingHours: true,
  zeroHours: true,
  heapedHours: true,
  torqueAsText: true,
  newtonMetres: true,
  celsius: true,
  duplicateRuns: true,
  splitRuns: true,
  runsMissing: true,
  buildsMissing: true,
  swappedSerials: true,
  blankReasons: true,
  habitOther: true,
};

export const dirtOff: FleetDirt = {
  midLifeEntry: false,
  lostInHole: false,
  leakingCodedPlanned: false,
  notTornDown: false,
  soundUnwritten: false,
  lateReports: false,
  swappedItems: false,
  hourNotNoted: false,
  maskedFailures: false,
  refittedFailed: false,
  buildRejects: false,
  missingHours: false,
  zeroHours: false,
  heapedHours: false,
  torqueAsText: false,
  newtonMetres: false,
  celsius: false,
  duplicateRuns: false,
  splitRuns: false,
  runsMissing: false,
  buildsMissing: false,
  swappedSerials: false,
  blankReasons: false,
  habitOther: false,
};

/** The committed sample fleet: effects on, moderate dirt on. */
export const defaultFleet: FleetOptions = {
  seed: 20260630,
  effects: effectsOn,
  dirt: dirtOn,
  serials: 60,
  from: "2023-01-01",
  to: "2026-06-30",
};

/** One law a mode, nothing wrong in the records: for coverage studies. Change the seed for each fleet. */
export const cleanFleet: FleetOptions = { ...defaultFleet, effects: effectsOff, dirt: dirtOff };
