// Put into the page of the wave laboratory before its own scripts: notes each painting of the traces.
(() => {
  window.paintings = [];
  const save = CanvasRenderingContext2D.prototype.save;
  CanvasRenderingContext2D.prototype.save = function () {
    paintings.push(performance.now());
    if (paintings.length === 1) window.tell(JSON.stringify({ kind: "traces", at: performance.now() }));
    return save.call(this);
  };
})();
