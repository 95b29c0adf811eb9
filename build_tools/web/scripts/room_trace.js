/** The phonocardiogram: one breath of sound as a trace, with the names of the sounds and the breath; it runs along. */

const HEIGHT = 170;
const NAMES_HEIGHT = 20;
const BREATH_HEIGHT = 34;
/** Soft sounds are drawn taller than in proportion, so that they show: size to this power. */
const POWER = 0.6;
/** The loudest that fits. */
const FULL = 0.8;
/** So many beats are seen at once, and the sound that is heard stands at this share of the width. */
const BEATS_SEEN = 3;
const HEARD_AT = 0.3;
/** The ordinary sounds have their names above the trace, what is added below it. */
const ORDINARY = ["S1", "A2"];

export class Trace {
  /** @param {HTMLCanvasElement} canvas */
  constructor(canvas) {
    this.canvas = canvas;
    this._picture = document.createElement("canvas");
    this._sound = null;
    this._share = null;
    const again = () => this.show(this._sound);
    new ResizeObserver(again).observe(canvas);
    window.matchMedia("(prefers-color-scheme: dark)").addEventListener("change", again);
    new MutationObserver(again).observe(document.documentElement, { attributeFilter: ["data-scheme"] });
  }

  /** @param {object|null} sound as `Place` keeps it */
  show(sound) {
    this._sound = sound;
    const wide = this.canvas.clientWidth;
    if (!sound || !wide) return;
    const sharp = window.devicePixelRatio || 1;
    const whole = wide * sound.beats / BEATS_SEEN;
    this.canvas.width = Math.round(wide * sharp);
    this._picture.width = Math.round(whole * sharp);
    for (const canvas of [this.canvas, this._picture]) canvas.height = Math.round(HEIGHT * sharp);
    const pen = this._picture.getContext("2d");
    pen.scale(sharp, sharp);
    this._draw(pen, whole);
    this.runTo(this._share);
  }

  /** Run the trace to a place in the breath, 0 to 1; null shows its start, without the line at what is heard. */
  runTo(share) {
    this._share = share;
    const { width, height } = this.canvas;
    const whole = this._picture.width;
    const pen = this.canvas.getContext("2d");
    pen.clearRect(0, 0, width, height);
    // The breath goes round: what has run out on the left comes in again on the right.
    let left = share === null ? 0 : HEARD_AT * width - share * whole;
    if (left > 0) left -= whole;
    for (; left < width; left += whole) pen.drawImage(this._picture, Math.round(left), 0);
    if (share === null) return;
    pen.fillStyle = this._colour("--pr-accent");
    pen.fillRect(HEARD_AT * width - 1, 0, Math.max(2, width / 300), height);
  }

  _colour(name) {
    return getComputedStyle(this.canvas).getPropertyValue(name).trim();
  }

  _draw(pen, wide) {
    const bottom = HEIGHT - BREATH_HEIGHT;
    const middle = (NAMES_HEIGHT + bottom) / 2;
    pen.font = `12px ${this._colour("--pr-sans")}`;
    this._drawMurmurs(pen, wide, bottom);
    this._drawSamples(pen, wide, middle, (bottom - NAMES_HEIGHT) / 2);
    const { events } = this._sound;
    this._drawNames(pen, wide, 3, events.filter(({ id }) => ORDINARY.includes(id)), "--pr-ink");
    this._drawNames(pen, wide, bottom - 14, events.filter(({ id }) => !ORDINARY.includes(id)), "--pr-accent");
    this._drawBreath(pen, wide, bottom);
  }

  /** Stretches of murmur as a quiet ground behind the trace. */
  _drawMurmurs(pen, wide, bottom) {
    const { events, length } = this._sound;
    pen.fillStyle = this._colour("--pr-accent-soft");
    for (const { id, start, end } of events) {
      if (!id.startsWith("murmur")) continue;
      for (const turn of [0, length]) {
        pen.fillRect((start - turn) / length * wide, NAMES_HEIGHT, (end - start) / length * wide, bottom - NAMES_HEIGHT);
      }
    }
  }

  _drawSamples(pen, wide, middle, tall) {
    const { samples } = this._sound;
    const height = (value) => middle - Math.sign(value) * Math.min(1, Math.abs(value) / FULL) ** POWER * tall;
    pen.fillStyle = this._colour("--pr-ink");
    // A stroke for each half of a unit: from the lowest to the highest sample in it.
    const strokes = Math.floor(wide * 2);
    for (let stroke = 0; stroke < strokes; stroke++) {
      const first = Math.floor(stroke / strokes * samples.length);
      const last = Math.max(first + 1, Math.floor((stroke + 1) / strokes * samples.length));
      let low = samples[first];
      let high = low;
      for (let place = first; place < last; place++) {
        low = Math.min(low, samples[place]);
        high = Math.max(high, samples[place]);
      }
      const top = height(high);
      pen.fillRect(stroke / 2, top - 0.5, 0.6, Math.max(1, height(low) - top + 1));
    }
  }

  _drawNames(pen, wide, top, events, colour) {
    const { length } = this._sound;
    pen.textAlign = "center";
    pen.textBaseline = "top";
    pen.fillStyle = this._colour(colour);
    for (const { label, start, end } of events) {
      const half = pen.measureText(label).width / 2;
      pen.fillText(label, Math.max(half, Math.min(wide - half, (start + end) / 2 / length * wide)), top);
    }
  }

  /** Breathing in rises, breathing out falls. */
  _drawBreath(pen, wide, top) {
    const { breathing } = this._sound;
    pen.textAlign = "start";
    pen.textBaseline = "bottom";
    pen.fillStyle = this._colour("--pr-soft");
    if (breathing !== "cycle") {
      pen.fillText(breathing === "in" ? "as at the end of a breath in" : "breathed out", 4, HEIGHT - 3);
      return;
    }
    pen.strokeStyle = this._colour("--pr-help");
    pen.lineWidth = 1.5;
    pen.beginPath();
    for (let x = 0; x <= wide; x += 4) {
      const depth = (1 - Math.cos(2 * Math.PI * x / wide)) / 2;
      pen.lineTo(x, HEIGHT - 4 - depth * (HEIGHT - top - 8));
    }
    pen.stroke();
    pen.textAlign = "center";
    pen.fillText("breathing in", wide * 0.31, HEIGHT - 3);
    pen.fillText("breathing out", wide * 0.69, HEIGHT - 3);
  }
}
