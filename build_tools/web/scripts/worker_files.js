/**
 * Files for a worker: our own packed files, counted while they come in, checked, and unpacked.
 *
 * Servers may label a file as they like: the type is decided here by the first bytes, not by the header.
 */

const FIRST_BYTES = { wasm: [0x00, 0x61, 0x73, 0x6d], zip: [0x50, 0x4b, 0x03, 0x04], json: [0x7b] };
// [first bytes, what makes a stream that unpacks], one for each way of packing.
const UNPACKERS = [[[0x1f, 0x8b], () => new DecompressionStream("gzip")]];
const LONGEST_START = 4;
const HTML_START = 0x3c;

/** What went wrong, in a sentence for the reader. The first cause is the one worth telling. */
export class LoadFailure extends Error {
  constructor(cause) {
    super(cause);
    this.name = "LoadFailure";
  }
}

/** Know one more way of packing by its first bytes. */
export function alsoUnpacks(firstBytes, makeStream) {
  UNPACKERS.push([firstBytes, makeStream]);
}

function startsWith(bytes, expected) {
  return expected.every((value, place) => bytes[place] === value);
}

function megabytes(count) {
  return (count / 1e6).toFixed(2) + " MB";
}

function joinBytes(first, second) {
  const joined = new Uint8Array(first.length + second.length);
  joined.set(first, 0);
  joined.set(second, first.length);
  return joined;
}

/**
 * Open one of our files as a stream of unpacked bytes.
 *
 * @param {{name: string, bytes: number, kind: "wasm"|"zip"|"json"}} file name beside the scripts, packed size, kind
 * @param {string} base address of the folder that holds the file
 * @param {(received: number) => void} count told how many packed bytes of this file are there
 * @param {(fault: LoadFailure) => void} [fail] told of a fault that comes up while the stream is being read
 * @returns {Promise<ReadableStream<Uint8Array>>}
 * @throws {LoadFailure} with a cause; a fault later on makes the stream fail with a LoadFailure
 */
export async function openFile(file, base, count, fail = () => {}) {
  if (typeof DecompressionStream === "undefined") {
    throw new LoadFailure("This browser is too old to unpack the calculation engine. A newer one can.");
  }
  let response;
  try {
    response = await fetch(new URL(file.name, base), { credentials: "same-origin" });
  } catch {
    throw new LoadFailure(`The file ${file.name} could not be fetched: the server cannot be reached.`);
  }
  if (!response.ok) {
    const what = response.status === 404 ? "is missing on the server" : "was refused by the server";
    throw new LoadFailure(`The file ${file.name} ${what} (status ${response.status}).`);
  }
  let received = 0;
  const counted = inspect(response.body, {
    chunk(bytes) {
      received += bytes.length;
      count(received);
    },
    failed: () => new LoadFailure(`The connection broke while ${file.name} was coming in.`),
  });
  const [head, packed] = await peek(counted);
  const way = UNPACKERS.find(([firstBytes]) => startsWith(head, firstBytes));
  if (!way) {
    refuseOtherKinds(head, file);
    return packed;                                // a server or proxy has unpacked it on the way
  }
  const unpacked = inspect(packed.pipeThrough(way[1]()), {
    failed: () => new LoadFailure(`The file ${file.name} arrived broken: ${megabytes(received)} of ${megabytes(file.bytes)} came.`),
    tell: fail,
  });
  const [start, contents] = await peek(unpacked);
  refuseOtherKinds(start, file);
  return contents;
}

function refuseOtherKinds(bytes, file) {
  if (bytes.length === 0) throw new LoadFailure(`The file ${file.name} is empty on the server.`);
  if (startsWith(bytes, FIRST_BYTES[file.kind])) return;
  if (bytes[0] === HTML_START) {
    throw new LoadFailure(`The server sent a web page in place of the file ${file.name}. A sign-in page may stand before it.`);
  }
  throw new LoadFailure(`The file ${file.name} is not what it should be: its first bytes are wrong.`);
}

/**
 * Pass a stream through, looking at each chunk; give its nameless fault a name, and keep one it has.
 *
 * @param {{chunk?: (bytes: Uint8Array) => void, failed: () => LoadFailure, tell?: (fault: LoadFailure) => void}} look
 */
function inspect(stream, { chunk = () => {}, failed, tell = () => {} }) {
  const reader = stream.getReader();
  return new ReadableStream({
    async pull(controller) {
      try {
        const { done, value } = await reader.read();
        if (done) {
          controller.close();
          return;
        }
        chunk(value);
        controller.enqueue(value);
      } catch (fault) {
        const cause = fault instanceof LoadFailure ? fault : failed();
        tell(cause);
        controller.error(cause);
      }
    },
    cancel: (reason) => reader.cancel(reason),
  });
}

/** Read as far as the first bytes, and give back a stream that still has them. */
async function peek(stream) {
  const reader = stream.getReader();
  let head = new Uint8Array(0);
  let ended = false;
  while (head.length < LONGEST_START && !ended) {
    const { done, value } = await reader.read();
    if (done) ended = true;
    else head = joinBytes(head, value);
  }
  const whole = new ReadableStream({
    start(controller) {
      if (head.length > 0) controller.enqueue(head);
      if (ended) controller.close();
    },
    async pull(controller) {
      const { done, value } = await reader.read();
      if (done) controller.close();
      else controller.enqueue(value);
    },
    cancel: (reason) => reader.cancel(reason),
  });
  return [head, whole];
}

/** Read one of our JSON files. */
export async function readJson(file, base, count) {
  return new Response(await openFile(file, base, count)).json();
}
