import { extendZodWithOpenApi } from "@asteasolutions/zod-to-openapi";
import { z } from "zod";

// Must run before any schema is made, so every contract takes zod from here.
extendZodWithOpenApi(z);

export { z };
