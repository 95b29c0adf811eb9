/**
 * Files packed by Zstandard: a fifth smaller than gzip, for the engine that weighs megabytes.
 *
 * Browsers unpack gzip by themselves; this needs a library, which the small engine's worker goes without.
 */
import { Decompress } from "engine:zstd";
import { alsoUnpacks } from "./worker_files.js";

alsoUnpacks([0x28, 0xb5, 0x2f, 0xfd], () => {
  let unpacking;
  return new TransformStream({
    start(controller) {
      unpacking = new Decompress((bytes) => controller.enqueue(bytes));
    },
    transform: (bytes) => unpacking.push(bytes),
    // Throws when the end is missing.
    flush: () => unpacking.push(new Uint8Array(0), true),
  });
});
