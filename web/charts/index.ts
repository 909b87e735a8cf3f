/** Charts: functions from a result to inert SVG nodes, the same on the server and in the page. */

export { ComparisonsChart } from "./ComparisonsChart.tsx";
export * from "./chartRows.ts";
export * from "./chartTable.ts";
export { type ComparisonsLayout, comparisonsLayout } from "./comparisonsLayout.ts";
export { FleetChart } from "./FleetChart.tsx";
export { HistoriesChart, lifeLabel } from "./HistoriesChart.tsx";
export { type HistoriesLayout, historiesLayout, mostRows, type Page } from "./historiesLayout.ts";
export { IntervalChart } from "./IntervalChart.tsx";
export { type IntervalLayout, type IntervalPicture, intervalLayout } from "./intervalLayout.ts";
export { sayAt } from "./intervalMarks.ts";
export { JointRegionChart } from "./JointRegionChart.tsx";
export type { ChartProps, ChartSize } from "./kit/Frame.tsx";
export { ProbabilityPlot } from "./ProbabilityPlot.tsx";
export { type ProbabilityLayout, probabilityLayout } from "./probabilityLayout.ts";
export { RateChart, rateLabel } from "./RateChart.tsx";
export { RatesOverTime } from "./RatesOverTime.tsx";
export { type RateLayout, rateLayout } from "./rateLayout.ts";
export { type ModeName, mostSeries, type OverTimeLayout, ratesOverTimeLayout } from "./ratesOverTimeLayout.ts";
export { ShapeBeliefChart } from "./ShapeBeliefChart.tsx";
export { SurvivalChart } from "./SurvivalChart.tsx";
export { type SurvivalLayout, survivalLayout } from "./survivalLayout.ts";
export { ToolDrawing } from "./ToolDrawing.tsx";
export { ToolHistoryChart } from "./ToolHistoryChart.tsx";
export { type ChartTheme, darkTheme, lightTheme } from "./theme.ts";
export { type ToolDrawingLayout, toolDrawingLayout } from "./toolDrawingLayout.ts";
export { type ToolHistoryLayout, toolHistoryLayout } from "./toolHistoryLayout.ts";
