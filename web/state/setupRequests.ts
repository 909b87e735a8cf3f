/** Words, item list, modes, compounds and mappings as one file: brought in, looked at first. */
import type { SetupReply } from "../../analysis/index.ts";
import { postJson } from "./request.ts";

export const setupAddress = "/api/setup";

/** What a file would change; nothing is stored. `bundle` is as the file says: the server checks it. */
export const previewSetup = (bundle: object, signal?: AbortSignal): Promise<SetupReply> =>
  postJson(`${setupAddress}?preview=true`, bundle, signal);

export const storeSetup = (bundle: object, who: string): Promise<SetupReply> =>
  postJson(setupAddress, { ...bundle, who });
