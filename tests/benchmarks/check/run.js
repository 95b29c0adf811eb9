// A fixed piece of work, for page and worker alike; gives the milliseconds it took.
async function run(task) {
  const began = performance.now();
  if (task === "fetch") {
    await (await fetch("megabyte.bin", { cache: "no-store" })).arrayBuffer();
  } else {
    for (let turn = 0, sum = 0; turn < 4e7; turn++) sum = (sum * 31 + turn) | 0;
  }
  return performance.now() - began;
}
