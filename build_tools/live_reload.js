// Reloads the page when `serve` has built the site anew. The server adds it; a published page never has it.
const state = new URL("live-reload.txt", document.currentScript.src);
let seen = null;

async function look() {
  try {
    const build = await (await fetch(state, { cache: "no-store" })).text();
    if (seen !== null && build !== seen) location.reload();
    seen = build;
  } catch {
    // The server is down or starting again: keep looking.
  }
  setTimeout(look, 700);
}

look();
