/** The result of one calculator: puts the door's words into the elements that stand in the page already. */
import { draw } from "./drawing.js";

export class Result {
  /** @param {HTMLElement} section the calculator */
  constructor(section) {
    this.region = section.querySelector(".calculator-result");
    this.bandRows = section.querySelectorAll(".calculator-bands tr[data-band]");
    const known = [...section.querySelectorAll(".calculator-note")].map((note) => note.textContent);
    this._knownNotes = new Set(known);
    this._spoken = this._part(".calculator-spoken");
    this._shown = false;
    this.text = "";
  }

  _part(selector) {
    return this.region.querySelector(selector);
  }

  /** Mark what stands there as old; it no longer belongs to the entries. */
  markOld() {
    if (this._shown) this.region.classList.add("is-old");
  }

  /** Say that the old result stays old, since the entries give no new one yet; refused: why they give none, or "". */
  sayOld(refused = "") {
    const old = this._shown ? "The result below is old: the entries have changed since." : "";
    this._part(".calculator-old").hidden = !this._shown;
    this._say(`${refused} ${old}`.trim());
  }

  clear() {
    this._shown = false;
    this.text = "";
    this.region.classList.remove("is-old", "is-disputed", "has-answer");
    for (const part of [".calculator-old", ".calculator-dispute", ".calculator-copy", ".calculator-cautions",
      ".calculator-glance", ".calculator-remarks"]) this._part(part)?.setAttribute("hidden", "");
    for (const card of this.region.querySelectorAll(".calculator-card")) card.hidden = true;
    this._say("");
  }

  /** Show an answer of the door (parsed JSON) whose state is "answer". */
  show(answer) {
    this._shown = true;
    this.text = answer.text;
    this.region.classList.remove("is-old", "is-disputed");
    this.region.classList.add("has-answer");
    this._part(".calculator-old").hidden = true;
    this._part(".calculator-dispute").hidden = true;
    this._part(".calculator-copy").hidden = false;
    this._part(".calculator-copied").textContent = "";
    this._part("textarea").hidden = true;
    for (const card of this.region.querySelectorAll(".calculator-card")) {
      const result = answer.results.find((one) => fits(card, one));
      card.hidden = !result;
      if (result) fillCard(card, result, this.bandRows);
    }
    this._fillGlance(answer);
    fillList(this._part(".calculator-cautions"), answer.cautions.map((caution) => caution.message));
    fillList(this._part(".calculator-remarks"), answer.notes.filter((note) => !this._knownNotes.has(note)));
    this._say(spokenAnswer(answer));
  }

  /** The reader asked for the answer, which may lie below the screen; the focus stays where it is. */
  bringIntoView() {
    this.region.scrollIntoView({ block: "start" });
  }

  /** Where there are many results: a short list of them all, each leading to its own card. */
  _fillGlance(answer) {
    const glance = this._part(".calculator-glance");
    if (!glance) return;
    glance.hidden = answer.results.length < 3;
    glance.replaceChildren(...answer.results.map((result) => {
      const card = [...this.region.querySelectorAll(".calculator-card")].find((one) => fits(one, result));
      const link = element("a", result.label);
      link.href = "#" + card.id;
      const found = [`${result.value} ${result.unit}`.trim(), ...result.bands.slice(0, 1).map((band) => band.label)];
      const line = document.createElement("li");
      line.append(link, " ", element("span", found.filter(Boolean).join(", ") || result.sentence));
      return line;
    }));
  }

  /** Two engines disagree: show what each says, and that neither may be used. */
  dispute(said) {
    this.region.classList.add("is-disputed");
    const box = this._part(".calculator-dispute");
    const lines = said.map(([engine, answer]) => element("li", `${engine}: ${spokenAnswer(answer)}`));
    const list = document.createElement("ul");
    list.append(...lines);
    const warning = "Do not use either answer. Two calculation engines on this device disagree:";
    const advice = "Work it out by hand from the formula below, and tell whoever runs this site.";
    box.replaceChildren(element("p", warning), list, element("p", advice));
    box.hidden = false;
    this._part(".calculator-copy").hidden = true;
    this._say(`${warning} ${lines.map((line) => line.textContent).join(" ")} ${advice}`);
  }

  /** Copy a text; where the page may not copy by itself, show it ready to be copied by hand. */
  async copy(text = this.text) {
    const told = this._part(".calculator-copied");
    try {
      await navigator.clipboard.writeText(text);
      told.textContent = "Copied.";
    } catch {
      const area = this._part("textarea");
      area.value = text;
      area.hidden = false;
      area.focus();
      area.select();
      told.textContent = document.execCommand("copy")
        ? "Copied."
        : "This browser does not let the page copy. The text is selected: copy it from here.";
    }
  }

  /** @param {string} words of the engine; @param {boolean} failed whether "Try again" is offered */
  tellEngine(words, failed) {
    this._part(".calculator-engine").textContent = words;
    this._part(".calculator-again").hidden = !failed;
    this.region.classList.toggle("has-failed", failed);
  }

  _say(words) {
    if (this._spoken.textContent !== words) this._spoken.textContent = words;
  }
}

function fits(card, result) {
  return card.dataset.output === result.output && card.dataset.side === (result.side ?? "");
}

function spokenAnswer(answer) {
  if (answer.state !== "answer") return answer.problems.map((problem) => problem.message).join(" ") || "no answer.";
  const sentences = answer.results.flatMap((result) => [
    result.sentence,
    ...result.bands.map((band) => `${band.scheme}: ${band.label}.${band.now ? " " + band.now : ""}`),
  ]);
  return [...sentences, ...answer.cautions.map((caution) => caution.message)].join(" ");
}

function fillCard(card, result, bandRows) {
  const value = card.querySelector(".calculator-value");
  const number = result.value === "" ? [element("span", result.sentence, "calculator-words")] : [
    element("span", result.value, "calculator-number"),
    element("span", result.unit, "calculator-number-unit"),
    ...result.also.map((other) => element("span", `${other.value} ${other.unit}`, "calculator-also")),
  ];
  value.replaceChildren(...number.flatMap((part, place) => (place ? [" ", part] : [part])));
  showRuler([...card.querySelectorAll(".calculator-ruler")], result);
  const figure = card.querySelector(".calculator-drawing");
  if (figure) draw(figure, result.drawing, result.label);
  const found = card.querySelector(".calculator-found");
  found.replaceChildren(...result.bands.map((band) => bandLine(band, bandRows)));
  found.hidden = result.bands.length === 0;
  const near = card.querySelector(".calculator-near");
  near.textContent = result.near.join(" ");
  near.hidden = result.near.length === 0;
  const uncertainty = card.querySelector(".calculator-uncertainty");
  if (uncertainty) {
    uncertainty.querySelector("span").textContent = result.uncertainty;
    uncertainty.hidden = result.uncertainty === "";
  }
  const working = card.querySelector(".calculator-working");
  working.querySelector("ol").replaceChildren(...result.working.map((line) => element("li", line)));
  working.hidden = result.working.length === 0;
}

function bandLine(band, bandRows) {
  const line = document.createElement("li");
  line.classList.toggle("is-urgent", band.urgent);
  line.append(element("strong", band.label), " ", element("span", `(${band.scheme})`, "calculator-scheme"));
  const row = [...bandRows].find((one) => one.dataset.scheme === band.scheme_id && one.dataset.band === band.band);
  const cite = row?.querySelector(".calculator-cite") ?? row?.closest("table").querySelector("caption .calculator-cite");
  if (cite) line.append(" ", withoutIds(cite.cloneNode(true)));
  if (band.now) line.append(element("p", band.now, "calculator-now"));
  if (band.then) line.append(element("p", band.then));
  return line;
}

function withoutIds(copy) {
  for (const part of [copy, ...copy.querySelectorAll("[id]")]) part.removeAttribute("id");
  return copy;
}

/** Show the value on its ruler. Where limits hold for some people only, each has a ruler: the one in use is shown. */
function showRuler(rulers, result) {
  const used = result.bands.map((band) => band.scheme_id);
  const shown = rulers.length > 1 ? rulers.find((one) => used.includes(one.dataset.scheme)) : rulers[0];
  for (const one of rulers) one.hidden = one !== shown;
  if (shown) moveMarker(shown.querySelector(".ruler-marker"), result.raw);
}

/** Put the ruler's marker on a value; a value beyond the ends stands at the end. */
function moveMarker(marker, value) {
  if (!marker) return;
  if (value === null) {
    marker.setAttribute("visibility", "hidden");
    return;
  }
  const { low, high, x0, x1 } = Object.fromEntries(
    Object.entries(marker.dataset).map(([name, text]) => [name, Number(text)]),
  );
  const share = Math.min(1, Math.max(0, (value - low) / (high - low)));
  marker.setAttribute("transform", `translate(${(x0 + share * (x1 - x0)).toFixed(2)} 0)`);
  marker.removeAttribute("visibility");
}

function fillList(list, lines) {
  list.replaceChildren(...lines.map((line) => element("li", line)));
  list.hidden = lines.length === 0;
}

function element(name, words, className) {
  const made = document.createElement(name);
  made.textContent = words;
  if (className) made.className = className;
  return made;
}
