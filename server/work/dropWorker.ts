/** Runs in the worker. */
import { dropReader } from "./dropReader.ts";

export default dropReader();
