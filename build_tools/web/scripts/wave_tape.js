/**
 * The tape of the wave laboratory: stretches of samples that the model gives, asked for ahead of the line.
 *
 * One tape belongs to one set of choices. All times are milliseconds of the tape.
 */
import { askModel } from "./page_engines.js";

/** As long as the model's own tape; then it begins again. */
export const TAPE = 60000;
const STRETCH = 2000;
const LONGEST_BEAT = 2500;

export class Tape {
  /**
   * @param {Engines} engines
   * @param {{condition: string, rhythm: string, breathing: string, rate: string}} choice
   * @param {(tape: Tape) => void} arrived called after every stretch that has come in
   * @param {(fault: Error) => void} failed called when no engine gives one
   */
  constructor(engines, choice, arrived, failed) {
    this._engines = engines;
    this._choice = choice;
    this._arrived = arrived;
    this._failed = failed;
    this._stretches = new Array(TAPE / STRETCH);
    this._asking = false;
    this._names = { scale: 0, kept: [] };
    this.step = 0;
    this.lanes = [];
    this.told = [];
  }

  /** Ask for what is missing from a time on, as far as `ahead` ms, one stretch after the other. */
  async want(from, ahead) {
    if (this._asking) return;
    const missing = this._missing(from, ahead);
    if (missing < 0) return;
    this._asking = true;
    const ends = { from: String(missing * STRETCH), until: String((missing + 1) * STRETCH) };
    try {
      const answer = await askModel(this._engines, { model: "wave_laboratory", ...this._choice, ...ends });
      this._stretches[missing] = answer;
      this.step = answer.step;
      this.lanes = answer.lanes;
      this.told = answer.told;
      this._asking = false;
      this._names.scale = 0;
      this._arrived(this);
    } catch (fault) {
      this._asking = false;
      this._failed(fault);
    }
  }

  /** Whether all from one time to another is there. */
  has(from, until) {
    return this._missing(from, until - from) < 0;
  }

  _missing(from, ahead) {
    const last = Math.min(this._stretches.length - 1, Math.floor((from + ahead) / STRETCH));
    for (let place = Math.floor(from / STRETCH); place <= last; place++) if (!this._stretches[place]) return place;
    return -1;
  }

  /** One sample of a lane, by its number from the start of the tape; undefined where nothing has come yet. */
  sample(lane, number) {
    const each = STRETCH / this.step;
    return this._stretches[Math.floor(number / each)]?.lanes[lane].samples[number % each];
  }

  /** What the model lists under a name (marks, beats, breaths_in) near a stretch of time, in order. */
  listed(name, from, until) {
    const first = Math.max(0, Math.floor(from / STRETCH));
    return this._stretches.slice(first, Math.floor(until / STRETCH) + 1).flatMap((stretch) => stretch?.[name] ?? []);
  }

  /** The beat in which a time lies, counted from its P wave on; undefined before the first. */
  beatAt(time) {
    return this._beatsNear(time).find((beat) => beat.start - P_WAVE <= time && time < endOf(beat));
  }

  /** The first beat that ends after a time. */
  beatAfter(time) {
    return this._beatsNear(time).find((beat) => endOf(beat) > time + 1);
  }

  _beatsNear(time) {
    return this.listed("beats", time - LONGEST_BEAT, time + LONGEST_BEAT);
  }

  /**
   * The names of waves and sounds that have room: by time, none too near after the one before in its row.
   *
   * @param {number} room ms that a letter takes
   */
  names(room) {
    if (this._names.scale !== room) {
      const before = {};
      const marks = this.listed("marks", 0, TAPE - 1).sort((one, other) => one.at - other.at);
      const kept = marks.filter(({ lane, below, at, words }) => {
        const row = `${lane} ${below}`;
        if (at - (before[row] ?? -Infinity) < room * (1 + words.length / 2)) return false;
        before[row] = at;
        return true;
      });
      this._names = { scale: room, kept };
    }
    return this._names.kept;
  }
}

/** A beat reaches to the P wave of the next one. */
const P_WAVE = 170;

export function endOf(beat) {
  return beat.until - P_WAVE;
}
