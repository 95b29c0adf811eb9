// What is timed inside a page that stands: an expression that gives functions, each of which gives milliseconds.
(() => {
  const painted = () => new Promise((resolve) => requestAnimationFrame(() => {
    const channel = new MessageChannel();
    channel.port1.onmessage = resolve;
    channel.port2.postMessage(null);
  }));
  const input = (field, text) => {
    field.value = text;
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const until = (root, ready) => new Promise((resolve) => {
    const watch = new MutationObserver(() => {
      if (!ready()) return;
      watch.disconnect();
      resolve(performance.now());
    });
    watch.observe(root, { subtree: true, childList: true, characterData: true });
  });

  return {
    /** From each of many keystrokes to the new number on the page. */
    async typing(times) {
      const section = document.querySelector("[data-calculator=mean_arterial_pressure]");
      const field = section.querySelector("input[type=text]");
      const shown = () => section.querySelector(".calculator-number")?.textContent;
      const taken = [];
      for (let turn = 0; turn < times; turn++) {
        await new Promise((resolve) => setTimeout(resolve, 60));
        const before = shown();
        const began = performance.now();
        const done = until(section, () => shown() !== before);
        input(field, turn % 2 ? "120" : "150");
        taken.push((await done) - began);
      }
      return taken;
    },

    /** From the first letter to the first result, with the index fetched when the field was touched. */
    async search(words) {
      const field = document.querySelector("dialog [data-search-input]");
      const list = document.querySelector("dialog [data-search-results]");
      document.querySelector("[data-search-open]").click();
      const taken = [];
      const touched = performance.now();
      for (const word of words) {
        const began = performance.now();
        const done = until(list, () => list.children.length > 0);
        input(field, word);
        await done;
        await painted();
        taken.push(performance.now() - began);
        if (taken.length === 1) taken.touched = performance.now() - touched;
        input(field, "");
        await painted();
      }
      return taken;
    },

    /** From a letter or number in the filter of normal values to the page laid out and painted. */
    async filter(words) {
      const field = document.querySelector("[data-values-form] input[type=text]");
      const taken = [];
      for (const word of words) {
        await painted();
        const began = performance.now();
        input(field, word);
        await painted();
        taken.push(performance.now() - began);
      }
      return taken;
    },

    /** A fixed loop, or a fetch of one megabyte, in the page and then in a worker: milliseconds of each. */
    async profile(task) {
      window.worker ||= new Worker("worker.js");
      const inPage = await run(task);
      const inWorker = await new Promise((resolve) => {
        worker.onmessage = ({ data }) => resolve(data);
        worker.postMessage(task);
      });
      return [inPage, inWorker];
    },
  };
})()
