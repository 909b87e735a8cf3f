import { expect, test } from "vitest";
import { type Place, readAddress, usualSettings, wholeFleet, writeAddress } from "../../../../web/state/place.ts";

const read = (address: string) => {
  const { pathname, search } = new URL(address, "http://shop");
  return readAddress(pathname, search);
};
const plain: Place = {
  view: "what-fails",
  scope: wholeFleet,
  settings: usualSettings,
  serial: null,
  drop: null,
  form: null,
  doubt: null,
  closely: null,
  settle: null,
  figures: {},
};

test("an address without anything is the first question about the whole fleet", () => {
  expect(read("/")).toEqual(plain);
  expect(writeAddress(plain)).toBe("/what-fails");
});

test("a place written and read again is the same place", () => {
  const place: Place = {
    view: "item-life",
    scope: {
      toolType: "axial damper",
      sizeIn: 6.5,
      item: "main seal & stack",
      mode: "leak / washout",
      serial: "AD650-017",
      customer: "Müller <b>",
      from: "2024-01-01",
      to: "2026-06-30",
    },
    settings: {
      statedAge: 250,
      confidence: 0.95,
      missingHours: "all high",
      openAudit: "left out",
      law: "lognormal",
      bounds: "by serial",
      sides: "lower",
      shape: { kind: "prior", low: 1.5, high: 3, sure: 0.8 },
    },
    serial: null,
    drop: null,
    form: null,
    doubt: null,
    closely: null,
    settle: null,
    figures: {},
  };
  expect(read(writeAddress(place))).toEqual(place);
});

test("a kind of doubt has an address under Records; one that does not exist shows all kinds", () => {
  const doubt = { rule: "torque unit suspect", table: "joints", column: "final_torque_Nm" } as const;
  const place: Place = { ...plain, view: "audit", doubt };
  expect(writeAddress(place)).toMatch(/^\/records\/audit\?/);
  expect(read(writeAddress(place))).toEqual(place);
  const ofRows: Place = { ...place, doubt: { rule: "duplicate run", table: "runs", column: null } };
  expect(read(writeAddress(ofRows))).toEqual(ofRows);
  expect(read("/records/audit?rule=odd&table=runs")).toEqual({ ...plain, view: "audit" });
  expect(read("/records?rule=duplicate+run&table=runs").doubt).toBeNull();
});

test("a serial with a slash or a percent sign survives the address", () => {
  for (const serial of ["AD/650 017", "100%", "Ä-1"]) {
    const place: Place = { ...plain, view: "tool-history", serial };
    expect(read(writeAddress(place)).serial).toBe(serial);
  }
});

test("what cannot be read is left out, never guessed", () => {
  const { scope, settings, view } = read(
    "/nothing?size=big&from=yesterday&to=2026-6-1&age=-5&confidence=2&missing=maybe&law=guess&bounds=wide&sides=upper&shape=3-2",
  );
  expect(view).toBe("what-fails");
  expect(scope).toEqual(wholeFleet);
  expect(settings).toEqual(usualSettings);
});

test("an escape that is broken does not break the page", () => {
  expect(readAddress("/tool-history/%E0%A4%A", "").serial).toBe("%E0%A4%A");
});
