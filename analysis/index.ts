/** What `server/` and `web/` may import from the engine. One line a module, in the order data flows. */
export * from "./errors.ts";
export * from "./estimation/types.ts";
export * from "./lives/age.ts";
export * from "./lives/deriveLives.ts";
export * from "./lives/types.ts";
export * from "./records/descriptor.ts";
export * from "./records/mapping.ts";
export * from "./study/api.ts";
export * from "./study/types.ts";
export * from "./wording/sayRequestError.ts";
export * from "./wording/sayStorageError.ts";
export * from "./wording/sayStorageNotice.ts";
