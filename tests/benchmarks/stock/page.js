// The least that a page can do with the stock loader: one module worker, the same question, the same formula.
const worker = new Worker("worker.js", { type: "module" });
worker.onmessage = ({ data }) => {
  document.getElementById("answer").textContent = data;
  window.tell(JSON.stringify({ kind: "answer", at: performance.now(), text: data }));
};
