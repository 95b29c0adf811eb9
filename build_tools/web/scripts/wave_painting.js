/**
 * The screen of the wave laboratory: four traces that a line writes from left to right, over those of the turn before.
 *
 * Only what the line has passed since the last frame is painted, so that a slow phone keeps up.
 */

/** CSS pixels a millisecond, and how many times more when looked at closer. */
const SCALE = 0.11;
const CLOSER = 2;
/** A screen of at least so many CSS pixels has room for traces so many times larger. */
const ROOMY = 560;
const LARGER = 1.4;
/** Measures in units of a sixteenth of the reader's text size. */
const GUTTER = 28;
const TITLE = 16;
const BREATH = 15;
const HEIGHTS = { ecg: 42, pulse: 64, veins: 84, sounds: 66 };
const GAP = 10;
const LETTER = 6;
const COLOURS = { ecg: "soft", pulse: "ink", veins: "accent", sounds: "ink" };

export class Screen {
  /** @param {HTMLCanvasElement} canvas */
  constructor(canvas) {
    this._canvas = canvas;
    this._context = canvas.getContext("2d");
    this.closer = false;
    this.window = 0;
    this._lanes = [];
  }

  /** Take the size and the colours that the page gives now; everything must be painted again after it. */
  fit() {
    const unit = parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
    const style = getComputedStyle(this._canvas);
    this._unit = unit;
    this._colours = Object.fromEntries(
      ["ink", "soft", "accent", "line", "raised", "sunk"].map((name) => [name, style.getPropertyValue(`--pr-${name}`)]),
    );
    this._font = `${Math.round(12 * unit)}px ${style.getPropertyValue("--pr-sans")}`;
    this._width = this._canvas.clientWidth;
    const size = unit * (this._width < ROOMY ? 1 : LARGER);
    // Whole pixels: what is painted over again and again must not bleed at its edges.
    let top = Math.round(BREATH * unit);
    this._lanes = Object.entries(HEIGHTS).map(([id, height]) => {
      const lane = { id, title: top, top: top + Math.round(TITLE * unit), height: Math.round(height * size) };
      top = lane.top + lane.height;
      return lane;
    });
    this._height = Math.ceil(top + 2);
    this._canvas.style.height = `${this._height}px`;
    this._dots = window.devicePixelRatio || 1;
    this._canvas.width = Math.round(this._width * this._dots);
    this._canvas.height = Math.round(this._height * this._dots);
    this._left = Math.round(GUTTER * unit);
    this._perMs = SCALE * size * (this.closer ? CLOSER : 1);
    this.window = Math.max(500, Math.floor((this._width - this._left) / this._perMs / 10) * 10);
  }

  /** Paint all: the scale and names of the lanes, and the traces as the line at a time leaves them. */
  paintAll(tape, time) {
    const context = this._context;
    context.setTransform(this._dots, 0, 0, this._dots, 0, 0);
    context.fillStyle = this._colours.raised;
    context.fillRect(0, 0, this._width, this._height);
    context.font = this._font;
    this._paintTitles(tape);
    if (tape.lanes.length === 0) return;
    const turn = Math.floor(time / this.window) * this.window;
    if (turn > 0) this._paint(tape, Math.max(0, time - this.window), turn);
    this.paint(tape, turn, time);
  }

  /** Paint what lies between two times, and the line at the second; both within one turn or from one to the next. */
  paint(tape, from, until) {
    const turn = Math.floor(until / this.window) * this.window;
    if (from < turn) {
      this._paint(tape, from, turn);
      from = turn;
    }
    this._paint(tape, from, until);
    this._paintLine(until);
  }

  _x(time) {
    return this._left + (time % this.window) * this._perMs;
  }

  /** A place on whole dots: strips that meet there show no seam. */
  _whole(x) {
    return Math.floor(x * this._dots) / this._dots;
  }

  _paintTitles(tape) {
    const context = this._context;
    context.textBaseline = "alphabetic";
    this._lanes.forEach((lane, place) => {
      const given = tape.lanes[place];
      const unit = given?.unit ? `, ${given.unit}` : "";
      context.fillStyle = this._colours.ink;
      context.textAlign = "start";
      context.font = `600 ${this._font}`;
      context.fillText((given?.name ?? "") + unit, 0, lane.title + 12 * this._unit);
      context.font = this._font;
      context.fillStyle = this._colours.soft;
      context.textAlign = "end";
      for (const tick of given?.ticks ?? []) {
        const y = this._y(lane, given, tick * given.scale);
        if (y > lane.top + 2) context.fillText(String(tick), this._left - 4 * this._unit, y + 4 * this._unit);
      }
    });
  }

  _y(lane, given, value) {
    return lane.top + (lane.height * (given.high - value)) / (given.high - given.low);
  }

  /** Paint a stretch of one turn. */
  _paint(tape, from, until) {
    const context = this._context;
    const turn = Math.floor(from / this.window) * this.window;
    const atEnd = until >= turn + this.window;
    const right = atEnd ? this._width : this._left + (until - turn) * this._perMs;
    const x0 = this._whole(this._x(from));
    const x1 = Math.min(this._width, this._whole(right) + (atEnd ? 0 : 1 / this._dots));
    if (x1 <= x0) return;
    context.save();
    context.beginPath();
    context.rect(x0, 0, x1 - x0, this._height);
    context.clip();
    this._clear(x0, x1);
    const margin = 24 / this._perMs;
    const begin = Math.max(turn, from - margin);
    const end = Math.min(turn + this.window, until + margin);
    this._paintBreaths(tape, turn, begin, end);
    this._paintSystoles(tape, turn, begin, end);
    this._lanes.forEach((lane, place) => this._paintLane(tape, lane, place, turn, begin, end));
    this._paintNames(tape, turn, begin, end);
    context.restore();
  }

  _clear(x0, x1) {
    this._context.fillStyle = this._colours.raised;
    this._context.fillRect(x0, 0, x1 - x0, this._lanes[0].title);
    for (const lane of this._lanes) this._context.fillRect(x0, lane.top, x1 - x0, lane.height);
  }

  _paintBreaths(tape, turn, begin, end) {
    const context = this._context;
    for (const [from, until] of tape.listed("breaths_in", begin - 4000, end)) {
      if (until <= turn) continue;
      const x = this._left + (from - turn) * this._perMs;
      context.fillStyle = this._colours.line;
      context.fillRect(x, 1, (until - from) * this._perMs, (BREATH - 2) * this._unit);
      context.fillStyle = this._colours.ink;
      context.textAlign = "start";
      context.fillText("breath in", Math.max(this._left, x) + 4, 11 * this._unit);
    }
  }

  _paintSystoles(tape, turn, begin, end) {
    const context = this._context;
    context.fillStyle = this._colours.sunk;
    for (const beat of tape.listed("beats", begin - 2000, end)) {
      const x = this._left + (beat.first - turn) * this._perMs;
      const wide = (beat.second - beat.first) * this._perMs;
      for (const lane of this._lanes) context.fillRect(x, lane.top, wide, lane.height);
    }
  }

  _paintLane(tape, lane, place, turn, begin, end) {
    const context = this._context;
    const given = tape.lanes[place];
    context.lineWidth = 1;
    context.strokeStyle = this._colours.line;
    for (const tick of given.ticks) {
      const y = Math.round(this._y(lane, given, tick * given.scale)) + 0.5;
      context.beginPath();
      context.moveTo(this._left, y);
      context.lineTo(this._width, y);
      context.stroke();
    }
    context.strokeStyle = this._colours[COLOURS[lane.id]];
    context.lineWidth = lane.id === "veins" || lane.id === "pulse" ? 2 : 1.2;
    context.lineJoin = "round";
    context.beginPath();
    const first = Math.floor(begin / tape.step);
    const last = Math.ceil(end / tape.step);
    for (let number = first; number <= last; number++) {
      const value = tape.sample(place, number);
      if (value === undefined) break;
      const x = this._left + (number * tape.step - turn) * this._perMs;
      context.lineTo(x, this._y(lane, given, value));
    }
    context.stroke();
  }

  _paintNames(tape, turn, begin, end) {
    const context = this._context;
    const unit = this._unit;
    context.textAlign = "center";
    context.fillStyle = this._colours.ink;
    for (const mark of tape.names((LETTER * unit) / this._perMs)) {
      if (mark.at < begin || mark.at > end) continue;
      const place = this._lanes.findIndex((lane) => lane.id === mark.lane);
      const lane = this._lanes[place];
      const highest = lane.top + 10 * unit;
      const lowest = lane.top + lane.height - 2 * unit;
      let y = mark.below ? lowest : highest;
      if (mark.lane === "veins") y = this._y(lane, tape.lanes[place], mark.level) + (mark.below ? 12 : -4) * unit;
      const x = this._left + (mark.at - turn) * this._perMs;
      context.fillText(mark.words, x, Math.max(highest, Math.min(lowest, y)));
    }
  }

  /** The line that writes, and an empty strip before it. */
  _paintLine(time) {
    const x = this._whole(this._x(time));
    const right = Math.min(this._width, x + GAP * this._unit);
    this._clear(x, right);
    this._context.fillStyle = this._colours.accent;
    for (const lane of this._lanes) this._context.fillRect(x, lane.top, 2, lane.height);
  }
}
