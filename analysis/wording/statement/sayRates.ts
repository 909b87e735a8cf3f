import type { Estimate } from "../../study/types.ts";
import { formatConfidence, formatEstimate } from "../formatEstimate.ts";
import { formatExact, formatNumber } from "../formatNumber.ts";
import { formatPercent } from "../formatPercent.ts";
import { countOf } from "../inWords.ts";
import { type Inline, say } from "./document.ts";
import { countFigure, estimateFigure, exactFigure, hoursFigure } from "./figures.ts";

interface ToolFailures {
  readonly runs: number;
  readonly hours: number;
  readonly failures: number;
  readonly rate: Estimate;
}

/** How often the tool ended a run. None and one say what they do not show. */
export function sayToolFailures({ runs, hours, failures, rate }: ToolFailures, result: string): Inline {
  if (runs === 0) return say`No run is counted in this scope, so nothing is claimed.`;
  const exposure = say`${countFigure(runs, "run", result)}, in ${hoursFigure(hours, result)}`;
  if (failures === 0) {
    return say`The tool ended none of ${exposure}. That does not show a rate of zero: it is ${{ text: `at most ${upperOf(rate)}`, value: rate.upper, result }}.`;
  }
  if (failures === 1) {
    return say`The tool ended 1 of ${exposure}: ${estimateFigure(rate, result)}. One failure fixes no rate: read the bounds, not the middle.`;
  }
  return say`The tool ended ${exactFigure(failures, result)} of ${exposure}: ${estimateFigure(rate, result)}.`;
}

/** "3.2 per 1,000 h (5 % above)". */
function upperOf({ upper, confidence }: Estimate): string {
  const beyond = formatNumber((1 - confidence) * 50);
  return upper === null ? "not bounded" : `${formatNumber(upper)} per 1,000 h (${beyond} % above)`;
}

/** How often one mode was found. */
export function sayModeRate(
  name: string,
  {
    failures,
    hours,
    rate,
    announces,
  }: {
    readonly failures: number;
    readonly hours: number;
    readonly rate: Estimate;
    readonly announces: "evident" | "hidden";
  },
  result: string,
): Inline {
  const kind = announces === "hidden" ? "inspected" : "run";
  if (failures === 0)
    return say`${name}: no failure found in ${hoursFigure(hours, result)} ${kind}, ${{ text: `at most ${upperOf(rate)}`, value: rate.upper, result }}.`;
  return say`${name}: ${{ text: `${formatExact(failures)} found`, value: failures, result }} in ${hoursFigure(hours, result)} ${kind}, ${{ text: formatEstimate(rate), value: rate.value, result }}.`;
}

interface Shares {
  readonly runs: number;
  readonly free: number;
  readonly share: Estimate;
  readonly designEffect: number;
  readonly serials: number;
}

/** Runs that went to their end as far as the tool is concerned. */
export function sayFailureFree({ runs, free, share, designEffect, serials }: Shares, result: string): Inline {
  if (runs === 0) return say`No run is counted, so no share of failure-free runs is claimed.`;
  const clustered =
    designEffect > 1
      ? ` Failures cluster by tool (${formatNumber(designEffect, 2)} times the scatter of chance), so the bounds are wider than ${countOf(runs, "independent run")} would give.`
      : "";
  const seen =
    share.lower === null
      ? ""
      : ` At least ${formatPercent(share.lower)} % is what these runs show (${formatNumber((1 - share.confidence) * 50)} % below).`;
  return say`${exactFigure(free, result)} of ${countFigure(runs, "run", result)} by ${countOf(serials, "tool")} were not ended by the tool: ${estimateFigure(share, result)}.${seen}${clustered}`;
}

export const levelOf = ({ confidence }: Estimate): string => formatConfidence(confidence);
