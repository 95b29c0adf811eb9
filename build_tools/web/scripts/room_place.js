/** One place of the listening room: what is chosen there, and its sound as trace and text. */
import { Trace } from "./room_trace.js";

/** Samples are whole numbers up to this. */
const LARGEST = 32768;
const PATIENCE = 200;

export class Place {
  /**
   * @param {HTMLElement} element
   * @param {(request: object) => Promise<object>} ask gives the model's answer
   * @param {(place: Place) => void} changed told when another sound is there
   */
  constructor(element, ask, changed) {
    this.element = element;
    this.letter = element.dataset.place;
    this.button = element.querySelector('[data-act="play"]');
    this.sound = null;
    this._ask = ask;
    this._changed = changed;
    this._now = element.querySelector(".room-now");
    this._caption = element.querySelector(".room-caption");
    this._trace = new Trace(element.querySelector("canvas"));
    this._turn = 0;
    this._timer = 0;
    element.addEventListener("input", ({ target }) => {
      if (target.name === "scene") this._goWhereBest();
      this._tellRate();
      clearTimeout(this._timer);
      this._timer = setTimeout(() => this.make(), target.name === "rate" ? PATIENCE : 0);
    });
    this._tellRate();
  }

  /** Choose a sound by its id, where it is best heard. Gives whether there is one of that name. */
  choose(scene) {
    const field = this._field("scene");
    if (![...field.options].some((option) => option.value === scene)) return false;
    field.value = scene;
    this._goWhereBest();
    return true;
  }

  /** Have the chosen sound made, and show it. Rejects when it cannot be made. */
  async make() {
    const turn = ++this._turn;
    const request = { rate: Number(this._field("rate").value) };
    for (const name of ["scene", "area", "piece", "manoeuvre"]) request[name] = this._field(name).value;
    const answer = await this._ask(request).catch(() => null);
    if (!answer || turn !== this._turn) return;   // the room has told, or something else was chosen since
    const samples = Float32Array.from(answer.samples, (sample) => sample / LARGEST);
    this.sound = { ...answer, samples };
    this._caption.replaceChildren(...answer.caption.map((sentence) => {
      const item = document.createElement("li");
      item.textContent = sentence;
      return item;
    }));
    this._trace.show(this.sound);
    this._changed(this);
  }

  /** Show how far the sound has run, 0 to 1; null when it is silent. */
  runTo(share) {
    this._trace.runTo(share);
    const ms = share === null ? -1 : share * this.sound.length;
    const { events = [], length = 0 } = this.sound ?? {};
    const within = ({ start, end }) => (start <= ms && ms < end) || (start <= ms + length && ms + length < end);
    const names = share === null ? [] : events.filter(within).map(({ name }) => name);
    const words = [...new Set(names)].join(" + ") || "\u00a0";
    if (this._now.textContent !== words) this._now.textContent = words;
  }

  /** @param {boolean} playing */
  tell(playing) {
    this.button.textContent = `${playing ? "Stop" : "Play"} ${this.letter}`;
    this.element.classList.toggle("is-playing", playing);
  }

  _goWhereBest() {
    const { area, piece } = this._field("scene").selectedOptions[0].dataset;
    this._field("area").value = area;
    this._field("piece").value = piece;
  }

  _tellRate() {
    this.element.querySelector("output").value = this._field("rate").value;
  }

  _field(name) {
    return this.element.querySelector(`[name="${name}"]`);
  }
}
