import { accessSync, constants, statfsSync } from "node:fs";
import { tmpdir } from "node:os";

/**
 * Where tests put the folders of stores: in memory where the machine offers it with room to spare. A data folder is a
 * thousand files, and most of a test's time would go into syncing them.
 */
export function quickFolder(): string {
  const inMemory = "/dev/shm";
  try {
    accessSync(inMemory, constants.W_OK);
    const { bavail, bsize } = statfsSync(inMemory);
    return bavail * bsize > 3e9 ? inMemory : tmpdir();
  } catch {
    return tmpdir();
  }
}
