// Property tests draw the same cases in every run; a new seed is a deliberate change.
import fc from "fast-check";

fc.configureGlobal({ ...fc.readConfigureGlobal(), seed: 20_260_630 });
