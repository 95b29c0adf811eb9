/** Plays one breath of samples round and round: from a touch only, never louder than a set level, gone at once. */

/** The most that is ever sent out, of full scale; the reader's own volume lies below it. */
const LOUDEST = 0.7;
/** Short enough to be at once, long enough not to click. */
const FADE_SECONDS = 0.012;
/** Browsers draw straight lines between samples: what that adds above the sounds is filtered away. */
const HIGHEST_HZ = 3000;

export class Player {
  /** @param {() => void} stopped called when the sound has been stopped from outside: the page is hidden or left */
  constructor(stopped) {
    this._context = null;
    this._source = null;
    this._volume = 0.5;
    const hush = () => {
      if (!this.playing) return;
      this.stop();
      stopped();
    };
    document.addEventListener("visibilitychange", () => document.hidden && hush());
    window.addEventListener("pagehide", hush);
  }

  get playing() {
    return this._source !== null;
  }

  /** @param {number} share 0 to 1 of what is ever sent out */
  setVolume(share) {
    this._volume = Math.min(1, Math.max(0, share));
    if (this._gain) this._gain.gain.setTargetAtTime(this._level(), this._context.currentTime, FADE_SECONDS);
  }

  /** As one turns a knob: half the way is a quarter of the loudness. */
  _level() {
    return LOUDEST * this._volume * this._volume;
  }

  /**
   * Play a sound, in place of the one that plays; to be called from a touch.
   *
   * @param {{samples: Float32Array, rate: number}} sound
   * @param {number} share where in the breath to begin
   */
  play(sound, share = 0) {
    this.stop();
    const context = this._ready();
    const buffer = context.createBuffer(1, sound.samples.length, sound.rate);
    buffer.copyToChannel(sound.samples, 0);
    const source = new AudioBufferSourceNode(context, { buffer, loop: true });
    const gain = new GainNode(context, { gain: 0 });
    const filter = () => new BiquadFilterNode(context, { type: "lowpass", frequency: HIGHEST_HZ });
    source.connect(filter()).connect(filter()).connect(gain).connect(context.destination);
    gain.gain.setTargetAtTime(this._level(), context.currentTime, FADE_SECONDS);
    source.start(0, share * buffer.duration);
    this._source = source;
    this._gain = gain;
    this._began = context.currentTime - share * buffer.duration;
    this._seconds = buffer.duration;
  }

  stop() {
    if (!this.playing) return;
    const now = this._context.currentTime;
    this._gain.gain.cancelScheduledValues(now);
    this._gain.gain.setTargetAtTime(0, now, FADE_SECONDS / 3);
    this._source.stop(now + FADE_SECONDS * 2);
    this._source = null;
    this._gain = null;
  }

  /** Where in the breath the sound is, 0 to 1. */
  get share() {
    const { currentTime, outputLatency = 0 } = this._context;
    const seconds = Math.max(0, currentTime - outputLatency - this._began);
    return (seconds % this._seconds) / this._seconds;
  }

  _ready() {
    this._context ??= new AudioContext();
    this._context.resume();
    return this._context;
  }
}
