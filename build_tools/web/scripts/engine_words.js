/** The quiet line under a result: which engine worked it out, whether another agrees, what is missing. */

/** Progress is told only when it takes longer than this. */
export const PATIENCE_MS = 1000;

const LOADING = ["download", "start", "load"];

function megabytes(bytes) {
  return (bytes / 1e6).toFixed(2);
}

function progress(engine) {
  if (engine.state !== "download") return "The calculation engine is starting.";
  return `The calculation engine is coming in: ${megabytes(engine.received)} of ${megabytes(engine.total)} MB.`;
}

/**
 * @param {Engines} engines
 * @param {{engine: Engine|null, checked: ""|"agreed"|"disagreed"|"broken"}} shown what stands in the result
 * @param {boolean} late whether the reader has waited long enough to be told why
 */
export function engineWords(engines, shown, late) {
  const { first, second } = engines;
  if (engines.failed) {
    return `This page cannot calculate now. ${first.failure} The formula below still holds.`;
  }
  if (shown.engine === null) {
    if (first.state === "failed") {
      return `${first.failure} Another engine takes its place. ${progress(second)}`;
    }
    return late && LOADING.includes(first.state) ? progress(first) : "";
  }
  return `Worked out on this device by ${shown.engine.version}. ${checkWords(engines, shown)}`.trim();
}

function checkWords({ first, second, savesData }, { engine, checked }) {
  if (!second) return "Portable edition, one engine: no second check.";
  const other = engine === first ? second : first;
  if (checked === "agreed") return `${other.version} gives the same.`;
  if (checked === "disagreed") return `${other.version} gives another answer.`;
  if (other.state === "failed") return `Not checked by a second engine: ${other.failure}`;
  if (checked === "broken") return "The second engine could not check it.";
  if (other.state === "idle" && savesData) return "Not checked by a second engine, to save data.";
  return LOADING.includes(other.state) ? "A second engine is coming in to check it." : "";
}
