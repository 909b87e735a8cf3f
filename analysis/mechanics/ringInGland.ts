import { checkPositive } from "./checkPositive.ts";

/** An O-ring in its gland. Lengths in one unit. */
export interface RingInGland {
  /** Section of the ring as moulded. */
  readonly section: number;
  readonly insideDiameter: number;
  /** Bottom diameter of the groove that the ring sits on. */
  readonly grooveDiameter: number;
  /** Radial depth with the mating part in place, clearance included. */
  readonly glandDepth: number;
  readonly grooveWidth: number;
  /** Rise of volume in the fluid: 0.15 for 15 %. */
  readonly volumeSwell: number;
}

/** As fractions. */
export interface RingFit {
  readonly stretch: number;
  /** Section after stretching, its volume kept. */
  readonly stretchedSection: number;
  readonly squeeze: number;
  readonly squeezeStretched: number;
  readonly fill: number;
  readonly fillSwollen: number;
}

/**
 * Squeeze, stretch and fill of an O-ring in a rectangular gland:
 *   squeeze = (W - d) / W,  stretch = (groove diameter - ID) / ID,  fill = (pi W^2 / 4) / (width depth),
 *   stretched section = W / sqrt(1 + stretch)
 *
 * Cautions  Usual limits: squeeze up to 30 % static and 16 % dynamic, stretch up to 3 to 5 %, fill 60 to 85 %. Squeeze must stay
 *           above 0 over all tolerances, eccentricity and cold shrink; the maker's limits govern.
 * Errors    "bad-setting" for a length that is not above 0 or a swell of -100 % or less.
 * Source    AS568 sizes and ISO 3601-2 housings for the geometry; squeeze limits: Mechanical Engineers' Handbook vol. 3, p. 290.
 */
export function ringInGland(ring: RingInGland): RingFit {
  const { section, insideDiameter, grooveDiameter, glandDepth, grooveWidth, volumeSwell } = ring;
  checkPositive({
    section,
    insideDiameter,
    grooveDiameter,
    glandDepth,
    grooveWidth,
    "1 + volumeSwell": 1 + volumeSwell,
  });
  const stretch = (grooveDiameter - insideDiameter) / insideDiameter;
  const stretchedSection = section / Math.sqrt(1 + stretch);
  const fill = (Math.PI * section ** 2) / 4 / (grooveWidth * glandDepth);
  return {
    stretch,
    stretchedSection,
    squeeze: (section - glandDepth) / section,
    squeezeStretched: (stretchedSection - glandDepth) / stretchedSection,
    fill,
    fillSwollen: fill * (1 + volumeSwell),
  };
}
