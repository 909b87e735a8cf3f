import { killedCases } from "./support/killedCases.ts";

// A file of its own, so that it runs beside the embedded engine's.
killedCases("server");
