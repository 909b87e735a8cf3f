import { convertUnit } from "../records/units.ts";
import { formatNumber } from "./formatNumber.ts";

/** "140 °C (284 °F)", both to whole degrees. */
export const formatTemperature = (celsius: number | null): string =>
  celsius === null
    ? "not known"
    : `${formatNumber(Math.round(celsius))} °C (${formatNumber(Math.round(convertUnit(celsius, "°C", "°F")))} °F)`;
