/** Tries to lock a folder at a given moment, says how it went, and holds the lock until its input ends. */
import { lockFolder } from "../../../../server/storage/folderLock.ts";
import { StorageError } from "../../../../server/storage/storageError.ts";

const [folder = "", at = "0"] = process.argv.slice(2);
// Idle waiting would let the processes drift apart by milliseconds.
while (Date.now() < Number(at));
try {
  await lockFolder(folder);
  process.stdout.write("locked\n");
  process.stdin.resume();
  process.stdin.on("end", () => process.exit(0));
} catch (error) {
  process.stdout.write(`${error instanceof StorageError ? error.code : String(error)}\n`);
  process.exit(0);
}
