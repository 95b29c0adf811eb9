/** The listening room: two places, one sound at a time, made in the worker and played from a touch on. */
import { askModel, pageEngines, whenShown } from "./page_engines.js";
import { Place } from "./room_place.js";
import { Player } from "./room_player.js";

const MODEL = "heart_sounds";
const SYNTHETIC = "Synthetic teaching sound.";
const LINK = "#hear-";

const { engines } = pageEngines();

class Room {
  constructor(section) {
    this.section = section;
    this.status = section.querySelector(".room-status");
    this.again = section.querySelector(".room-again");
    this.playing = null;
    this.calm = window.matchMedia("(prefers-reduced-motion: reduce)");
    this.player = new Player(() => this._stopped("Stopped, since the page was out of sight."));
    const ask = (request) => this._ask(request);
    const changed = (place) => this._changed(place);
    this.places = [...section.querySelectorAll("[data-place]")].map((element) => new Place(element, ask, changed));
    this.places.forEach((place) => place.button.addEventListener("click", () => this._toggle(place)));
    this._common = (name) => section.querySelector(`.room-common [name="${name}"]`);
    section.addEventListener("input", ({ target }) => {
      if (target.name === "volume") this.player.setVolume(target.value / 100);
      if (target.name === "slow" || target.name === "shifted") this._makeShown();
    });
    section.querySelector('[data-act="compare"]').addEventListener("click", (event) => this._compare(event.target));
    section.querySelector('[data-act="again"]').addEventListener("click", () => {
      engines.retry();
      this._makeShown();
    });
    document.addEventListener("keydown", ({ key }) => {
      if (key === "Escape" && this.playing) this._stop("Stopped.");
    });
    this.player.setVolume(this._common("volume").value / 100);
    section.querySelector(".room-words").open = false;
    // A link to a sound leads to its row for a reader without scripts; here it opens the sound, and the row lets go.
    for (const row of section.querySelectorAll(`[id^="${LINK.slice(1)}"]`)) row.removeAttribute("id");
    addEventListener("hashchange", () => this._openLink());
    if (!this._openLink()) this._makeShown();
  }

  /** Open the sound that the address names. Gives whether it names one. */
  _openLink() {
    if (!location.hash.startsWith(LINK) || !this.places[0].choose(location.hash.slice(LINK.length))) return false;
    this._makeShown();
    this.section.scrollIntoView();
    return true;
  }

  _makeShown() {
    for (const place of this.places) if (!place.element.hidden) place.make();
  }

  async _ask(request) {
    const common = { slow: this._common("slow").checked, shifted: this._common("shifted").checked };
    try {
      const answer = await askModel(engines, { model: MODEL, ...request, ...common });
      this.again.hidden = true;
      return answer;
    } catch (fault) {
      this._stop(`The sound could not be made. ${fault.message} The table below still holds.`);
      this.again.hidden = !engines.failed;
      throw fault;
    }
  }

  /** A place has another sound: let it sound on from where the old one was. */
  _changed(place) {
    if (place === this.playing) this.player.play(place.sound, this.player.share);
  }

  async _toggle(place) {
    if (place === this.playing) {
      this._stop("Stopped.");
      return;
    }
    if (!place.sound) {
      this.status.textContent = "The sound is still being made. Touch again in a moment.";
      return;
    }
    if (typeof AudioContext === "undefined") {
      this.status.textContent = "This browser cannot play sounds that a page makes. The trace and the words still hold.";
      return;
    }
    if (this.playing) this._quiet();
    this.player.play(place.sound);
    this.playing = place;
    place.tell(true);
    this.status.textContent = `Playing ${place.letter}: ${place.sound.title}. ${SYNTHETIC}`;
    this._run();
  }

  /** Keep trace and words with the sound, one picture after another; not for a reader who wants no motion. */
  _run() {
    if (!this.playing) return;
    if (!this.calm.matches) this.playing.runTo(this.player.share);
    requestAnimationFrame(() => this._run());
  }

  _stop(words) {
    this.player.stop();
    this._stopped(words);
  }

  _stopped(words) {
    this._quiet();
    this.status.textContent = words;
  }

  _quiet() {
    this.playing?.tell(false);
    this.playing?.runTo(null);
    this.playing = null;
  }

  _compare(button) {
    const second = this.places[1];
    const open = second.element.hidden;
    second.element.hidden = !open;
    button.setAttribute("aria-expanded", String(open));
    button.textContent = open ? "Leave only sound A" : "Compare with a second sound";
    this.section.classList.toggle("is-comparing", open);
    if (open) {
      second.choose(second.element.querySelector('[name="scene"]').value);
      second.make();
      second.element.scrollIntoView({ block: "nearest" });
    } else if (this.playing === second) {
      this._stop("Stopped.");
    }
  }
}

let room = null;

whenShown(() => {
  const section = document.querySelector('[data-laboratory="listening_room"]');
  if (section && room?.section !== section) room = new Room(section);
});
