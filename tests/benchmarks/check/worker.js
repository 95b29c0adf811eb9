importScripts("run.js");

onmessage = async ({ data }) => postMessage(await run(data));
