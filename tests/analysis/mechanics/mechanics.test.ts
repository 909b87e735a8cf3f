// Worked values: the printed ones name their page; "recomputed" ones were worked out apart from this code, to the digits shown.
import { describe, expect, test } from "vitest";
import { compressionSet } from "../../../analysis/mechanics/compressionSet.ts";
import { combinedScatter, torqueOnReference, torqueWithCompound } from "../../../analysis/mechanics/frictionFactor.ts";
import { ringInGland } from "../../../analysis/mechanics/ringInGland.ts";
import { preloadOfTorque, torqueForPreload } from "../../../analysis/mechanics/shortFormTorque.ts";
import { makeUpForStress, makeUpOfTorque, type ShoulderedJoint } from "../../../analysis/mechanics/shoulderedJoint.ts";
import { ageingFactor, thermalHours } from "../../../analysis/mechanics/thermalAgeing.ts";

const inch = 0.0254;
const poundForce = 4.4482216152605;
const footPound = 0.3048 * poundForce;
const psi = poundForce / inch ** 2;

describe("torque and preload, short form", () => {
  test("3/8 in at 4,940 lbf: 30 ft-lbf dry and 23 lubricated, as a fastener-engineering page prints", () => {
    const dry = torqueForPreload({ diameter: 0.375, nutFactor: 0.2 }, 4940) / 12;
    const oiled = torqueForPreload({ diameter: 0.375, nutFactor: 0.15 }, 4940) / 12;
    // The page cuts 30.9 to 30; recomputed 30.875 and 23.15625.
    expect([Math.floor(dry), Math.floor(oiled)]).toEqual([30, 23]);
    expect([dry, oiled]).toEqual([expect.closeTo(30.875, 9), expect.closeTo(23.15625, 9)]);
  });

  test("the same in SI: 1 in at 20,000 lbf is 451.9 N·m, and at K 0.15 that torque gives a third more preload", () => {
    const torque = torqueForPreload({ diameter: inch, nutFactor: 0.2 }, 20_000 * poundForce);
    expect(torque).toBeCloseTo(451.9, 1);
    expect(torque / footPound).toBeCloseTo(333.33, 2);
    expect(preloadOfTorque({ diameter: inch, nutFactor: 0.15 }, torque) / poundForce).toBeCloseTo(26_667, 0);
  });

  test("a value that is not above 0 is refused by name", () => {
    expect(() => torqueForPreload({ diameter: 0, nutFactor: 0.2 }, 1)).toThrow(/diameter/);
    expect(() => preloadOfTorque({ diameter: 1, nutFactor: 0.2 }, Number.NaN)).toThrow(/torque/);
  });
});

// Illustrative sizes; recomputed values (formula of Farr 1957 as in the appendix of API RP 7G).
const joint: ShoulderedJoint = {
  area: 12,
  lead: 0.25,
  meanThreadRadius: 2.35,
  meanShoulderRadius: 2.85,
  threadHalfAngle: 30,
  threadFriction: 0.08,
  shoulderFriction: 0.08,
};
const metric: ShoulderedJoint = {
  ...joint,
  area: 12 * inch ** 2,
  lead: 0.25 * inch,
  meanThreadRadius: 2.35 * inch,
  meanShoulderRadius: 2.85 * inch,
};

describe("rotary-shouldered make-up", () => {
  test("72,000 psi takes 34,911 ft-lbf: 8.2 % lead, 44.8 % thread, 47.0 % shoulder", () => {
    const { torque, shares } = makeUpForStress(joint, 72_000);
    expect(torque / 12).toBeCloseTo(34_911, 0);
    expect(100 * shares.lead).toBeCloseTo(8.2, 1);
    expect(100 * shares.thread).toBeCloseTo(44.8, 1);
    expect(100 * shares.shoulder).toBeCloseTo(47.0, 1);
  });

  test("the same in SI is 47,333 N·m", () => {
    expect(Math.abs(makeUpForStress(metric, 72_000 * psi).torque - 47_333)).toBeLessThan(1);
  });

  test("less friction at the same torque is more stress: +13 % on the shoulder alone, +30 % everywhere; more is -19 %", () => {
    const { torque } = makeUpForStress(joint, 72_000);
    const stress = (threadFriction: number, shoulderFriction: number) =>
      makeUpOfTorque({ ...joint, threadFriction, shoulderFriction }, torque).stress;
    expect(Math.abs(stress(0.08, 0.06) - 81_592)).toBeLessThan(1);
    expect(Math.abs(stress(0.06, 0.06) - 93_444)).toBeLessThan(1);
    expect(Math.abs(stress(0.1, 0.1) - 58_561)).toBeLessThan(1);
  });

  test("ten per cent more friction takes 1.092 times the torque: a friction factor of 1.10 over-corrects a little", () => {
    const { torque } = makeUpForStress(joint, 72_000);
    const more = makeUpForStress({ ...joint, threadFriction: 0.088, shoulderFriction: 0.088 }, 72_000).torque;
    expect(more / torque).toBeCloseTo(1.092, 3);
  });

  test("a half-angle of 90 degrees is refused", () => {
    expect(() => makeUpForStress({ ...joint, threadHalfAngle: 90 }, 1)).toThrow(/threadHalfAngle/);
  });
});

describe("friction factor", () => {
  test("21,914 ft-lbf becomes 24,105 with a factor of 1.1 and 19,723 with 0.9, as two suppliers' pages print", () => {
    expect(Math.round(torqueWithCompound(21_914, 1.1))).toBe(24_105);
    expect(Math.round(torqueWithCompound(21_914, 0.9))).toBe(19_723);
    expect(torqueOnReference(torqueWithCompound(21_914, 0.9), 0.9)).toBeCloseTo(21_914, 6);
  });

  test("a torque tool of 4 % hardly counts beside a friction scatter of 30 %: 30.3 % together", () => {
    expect(100 * combinedScatter(0.04, 0.3)).toBeCloseTo(30.3, 1);
  });
});

describe("compression set", () => {
  test("6.00 mm held at 4.50 and back at 5.40 has set by 40 %, in mm and in inches", () => {
    expect(compressionSet(6, 5.4, 4.5)).toBeCloseTo(0.4, 12);
    expect(compressionSet(6 / 25.4, 5.4 / 25.4, 4.5 / 25.4)).toBeCloseTo(0.4, 12);
  });

  test("a spacer that does not compress is refused", () => {
    expect(() => compressionSet(6, 5, 6)).toThrow(/spacer/);
  });
});

describe("a ring in its gland", () => {
  // AS568 section 0.139 in; recomputed.
  const ring = {
    section: 0.139,
    insideDiameter: 0.984,
    grooveDiameter: 1.01,
    glandDepth: 0.113,
    grooveWidth: 0.187,
    volumeSwell: 0.15,
  };

  test("0.139 in section in a gland 0.113 by 0.187: squeeze 18.7 %, fill 71.8 %, 82.6 % swollen, stretch 2.64 %", () => {
    const fit = ringInGland(ring);
    expect(100 * fit.squeeze).toBeCloseTo(18.7, 1);
    expect(100 * fit.fill).toBeCloseTo(71.8, 1);
    expect(100 * fit.fillSwollen).toBeCloseTo(82.6, 1);
    expect(100 * fit.stretch).toBeCloseTo(2.64, 2);
    expect(fit.stretchedSection).toBeCloseTo(0.1372, 4);
    expect(100 * fit.squeezeStretched).toBeCloseTo(17.6, 1);
  });

  test("the same in millimetres", () => {
    const mm = (inches: number) => 25.4 * inches;
    const metricRing = {
      section: mm(ring.section),
      insideDiameter: mm(ring.insideDiameter),
      grooveDiameter: mm(ring.grooveDiameter),
      glandDepth: mm(ring.glandDepth),
      grooveWidth: mm(ring.grooveWidth),
      volumeSwell: ring.volumeSwell,
    };
    const [inches, millimetres] = [ringInGland(ring), ringInGland(metricRing)];
    expect(millimetres.squeezeStretched).toBeCloseTo(inches.squeezeStretched, 12);
    expect(millimetres.fillSwollen).toBeCloseTo(inches.fillSwollen, 12);
  });
});

describe("thermal ageing", () => {
  // Recomputed, R 8.314 J/mol/K.
  test("at 85 kJ/mol ten degrees more at 100 degC age 2.04 times as fast, fifty 25.5 times; 14.4 at 70 and 45.1 at 100 kJ/mol", () => {
    expect(ageingFactor(110, 100, 85_000)).toBeCloseTo(2.04, 2);
    expect(ageingFactor(150, 100, 85_000)).toBeCloseTo(25.5, 1);
    expect(ageingFactor(150, 100, 70_000)).toBeCloseTo(14.4, 1);
    expect(ageingFactor(150, 100, 100_000)).toBeCloseTo(45.1, 1);
  });

  test("60 h at 120, 30 at 140 and 10 at 150 degC are 228.8 h at 120; the same temperatures from degrees Fahrenheit", () => {
    const runs = [
      { hours: 60, celsius: 120 },
      { hours: 30, celsius: 140 },
      { hours: 10, celsius: 150 },
    ];
    expect(thermalHours(runs, 120, 85_000)).toBeCloseTo(228.8, 1);
    const fromFahrenheit = [248, 284, 302].map((degrees, index) => ({
      hours: runs[index]?.hours ?? 0,
      celsius: (degrees - 32) / 1.8,
    }));
    expect(thermalHours(fromFahrenheit, 120, 85_000)).toBeCloseTo(228.8, 1);
  });

  test("a temperature below absolute zero is refused", () => {
    expect(() => ageingFactor(-300, 20)).toThrow(/temperature/);
  });
});
