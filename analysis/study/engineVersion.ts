/** Goes into every result. Raise it with any change that moves a reported number, and record the change in DEVELOPERS.md. */
export const engineVersion = "0.4.0";
