/**
 * Results to draw and to build views on, of the shapes in `analysis/study/types.ts`. All invented and seeded: the records
 * are simulated here, and the numbers come from small, plain estimators kept in this folder (never used as a check of
 * the engine).
 */
export { buildPracticeFixture } from "./chartFixtures/buildPractice.ts";
export { type ItemLifeFixtureOptions, itemLifeFixture } from "./chartFixtures/itemLife.ts";
export { toolHistoryFixture } from "./chartFixtures/toolHistory.ts";
export { type WhatFailsFixtureOptions, whatFailsFixture } from "./chartFixtures/whatFails.ts";
