/**
 * Search: fetches the index when a reader first touches a search field, and looks words up as they are typed.
 * Everything happens on this device; what is typed is not sent anywhere.
 */
(function () {
  "use strict";

  const MOST = 12;
  const MOST_VALUES = 3; // Rows of normal values, before other kinds have had their turn.

  const KINDS = {
    step: "Step", finding: "Finding", condition: "Condition", calculators: "Calculator", value: "Value", article: "Page",
  };

  // Words that tell which kind of page is wanted.
  const WANTED = [
    ["value", 1.5, "normal range value limit reference upper lower"],
    ["step", 1.3, "how examine examination measure feel take test check technique palpate find"],
    ["calculators", 1.6, "calculate calculator compute work formula equation"],
    ["finding", 1.2, "sign cause"],
  ].map(([kind, factor, words]) => ({ kind, factor, words: new Set(words.split(" ")) }));

  // Words that ask; they count only when nothing else is left.
  const ASKING = new Set(
    "normal how test check work compute find what take range examine examination exam calculate".split(" "),
  );

  const { foldedWords, groupOfAge } = window.pulseRuler;

  /** Whether two words differ by at most one letter added, dropped, changed or swapped with its neighbour. */
  function nearlySame(a, b) {
    if (Math.abs(a.length - b.length) > 1) return false;
    let start = 0;
    while (start < a.length && start < b.length && a[start] === b[start]) start += 1;
    let endA = a.length;
    let endB = b.length;
    while (endA > start && endB > start && a[endA - 1] === b[endB - 1]) {
      endA -= 1;
      endB -= 1;
    }
    if (endA - start <= 1 && endB - start <= 1) return true;
    return endA - start === 2 && endB - start === 2 && a[start] === b[start + 1] && a[start + 1] === b[start];
  }

  /** Whether two longer words differ by two such slips at most. The first letter is nearly always right. */
  function roughlySame(a, b) {
    if (a[0] !== b[0] || Math.abs(a.length - b.length) > 2) return false;
    let older = [];
    let last = Array.from({ length: b.length + 1 }, (_, at) => at);
    for (let i = 1; i <= a.length; i += 1) {
      const row = [i];
      for (let j = 1; j <= b.length; j += 1) {
        row[j] = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
        if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) row[j] = Math.min(row[j], older[j - 2] + 1);
      }
      if (Math.min(...row) > 2) return false;
      [older, last] = [last, row];
    }
    return last[b.length] <= 2;
  }

  /** First place in a sorted list that is not before the word. */
  function placeOf(list, word) {
    let low = 0;
    let high = list.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (list[middle] < word) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  class Index {
    constructor(data) {
      this.pages = data.pages;
      this.names = data.names;
      this.words = data.words;
      this.empty = new Set(data.empty);
      this.sorted = Object.keys(data.words).sort();
    }

    /** Words of the index that a typed word may stand for, each with how far it counts. */
    candidates(word, unfinished) {
      const found = [];
      if (this.words[word]) found.push([word, 1]);
      if ((unfinished && word.length >= 2) || (!found.length && word.length >= 4)) {
        for (let at = placeOf(this.sorted, word); at < this.sorted.length && found.length < 30; at += 1) {
          const other = this.sorted[at];
          if (!other.startsWith(word)) break;
          if (other !== word) found.push([other, (0.8 * word.length) / other.length]);
        }
      }
      if (!found.length && word.length >= 5) {
        for (const other of this.sorted) if (nearlySame(word, other)) found.push([other, 0.6]);
      }
      if (!found.length && word.length >= 7) {
        for (const other of this.sorted) if (roughlySame(word, other)) found.push([other, 0.4]);
      }
      return found;
    }

    /** Pages that hold a word of the index: [page, section or 0, weight] of each. */
    *pagesWith(word) {
      const list = this.words[word] || [];
      let page = 0;
      for (let at = 0; at < list.length; at += 3) {
        page += list[at]; // Written as the distance from the page before.
        yield [page, list[at + 1], list[at + 2]];
      }
    }

    /** Give the best matches for a question: [{page, part, score}], best first; part 1 is the page's first section. */
    find(question) {
      const age = groupOfAge(question);
      const all = foldedWords(question);
      let words = all.filter((word) => !this.empty.has(word) && !(age && word === age.number));
      const subject = words.filter((word) => !ASKING.has(word));
      if (subject.length) words = subject;
      const unfinished = !/\s$/.test(question);
      const scores = new Map();
      const add = (page, part, weight, turn) => {
        const found = scores.get(page) || { page, part: 0, best: 0, score: 0, seen: new Set() };
        found.score += weight;
        found.seen.add(turn);
        if (part && weight > found.best) {
          found.part = part;
          found.best = weight;
        }
        scores.set(page, found);
      };
      words.forEach((word, turn) => {
        const strongest = new Map();
        for (const [other, share] of this.candidates(word, unfinished && turn === words.length - 1)) {
          for (const [page, part, full] of this.pagesWith(other)) {
            const weight = full * share;
            const before = strongest.get(page);
            if (!before || weight > before[0]) strongest.set(page, [weight, part]);
          }
        }
        for (const [page, [weight, part]] of strongest) add(page, part, weight, turn);
      });
      // A whole name in the question says more than its words one by one.
      const named = new Map();
      for (let from = 0; from < words.length; from += 1) {
        for (let to = from + 1; to <= words.length; to += 1) {
          for (const page of this.names[words.slice(from, to).join(" ")] || []) {
            named.set(page, Math.max(named.get(page) || 0, to - from));
          }
        }
      }
      const inGroup = new Set(age ? [...this.pagesWith(age.group)].map(([page]) => page) : []);
      for (const found of scores.values()) {
        found.score *= (found.seen.size / words.length) ** 2;
        if (named.has(found.page)) found.score *= 1 + (1.5 * named.get(found.page)) / words.length;
        const kind = this.pages[found.page][2];
        for (const wanted of WANTED) {
          if (wanted.kind === kind && all.some((word) => wanted.words.has(word))) found.score *= wanted.factor;
        }
        if (kind === "value") found.score *= inGroup.has(found.page) ? 1.6 : 0.7;
      }
      return this.inTurn([...scores.values()].sort((a, b) => b.score - a.score || a.page - b.page));
    }

    /** Keep rows of values from filling the list before anything else is seen. */
    inTurn(found) {
      const first = [];
      const later = [];
      let values = 0;
      for (const one of found) {
        const value = this.pages[one.page][2] === "value";
        if (value && values >= MOST_VALUES) later.push(one);
        else first.push(one);
        if (value) values += 1;
      }
      return [...first.slice(0, MOST), ...later].slice(0, MOST);
    }
  }

  const dialog = document.querySelector("dialog[data-search]");
  let loading = null;

  /** Fetch the index once; a failure is forgotten, so that the next try asks again. */
  function index() {
    loading ||= fetch(dialog.dataset.searchIndex)
      .then((answer) => {
        if (!answer.ok) throw new Error("answered " + answer.status);
        return answer.json();
      })
      .then((data) => new Index(data))
      .catch((fault) => {
        loading = null;
        throw fault;
      });
    return loading;
  }

  function setUp(box) {
    const input = box.querySelector("[data-search-input]");
    const list = box.querySelector("[data-search-results]");
    const count = box.querySelector("[data-search-count]");
    const site = dialog.dataset.site;
    if (box.dataset.ready) return;
    box.dataset.ready = "yes";

    function row({ page, part }, here) {
      const [address, title, kind, about, sections] = here.pages[page];
      const item = document.createElement("li");
      const link = document.createElement("a");
      link.href = site + address;
      const label = document.createElement("span");
      label.className = "result-kind";
      label.textContent = KINDS[kind] || "";
      const name = document.createElement("b");
      name.textContent = title;
      const words = document.createElement("span");
      words.className = "result-about";
      words.textContent = about;
      link.append(label, name, words);
      item.append(link);
      if (part) {
        const [anchor, heading] = sections[part - 1];
        const deeper = document.createElement("a");
        deeper.className = "result-part";
        deeper.href = site + address + "#" + anchor;
        deeper.textContent = "Go to: " + heading;
        item.append(deeper);
      }
      return item;
    }

    async function look() {
      const question = input.value;
      if (!foldedWords(question).length) {
        list.replaceChildren();
        count.textContent = "";
        return;
      }
      try {
        const here = await index();
        if (input.value !== question) return;
        const found = here.find(question);
        list.replaceChildren(...found.map((one) => row(one, here)));
        count.textContent = found.length
          ? found.length === MOST ? "The best " + MOST : found.length + (found.length === 1 ? " match" : " matches")
          : "Nothing found. Try fewer or other words, or the lists A to Z.";
      } catch (fault) {
        list.replaceChildren();
        count.textContent = "The search list could not be loaded (" + fault.message + "). The lists A to Z still work.";
      }
    }

    input.addEventListener("focus", () => index().catch(() => undefined), { once: true });
    input.addEventListener("input", look);
    box.querySelector("[data-search-form]").addEventListener("submit", (event) => {
      event.preventDefault();
      list.querySelector("a")?.click();
    });
    box.addEventListener("keydown", (event) => {
      if (event.key !== "ArrowDown" && event.key !== "ArrowUp") return;
      const stops = [input, ...list.querySelectorAll("a")];
      const at = stops.indexOf(document.activeElement) + (event.key === "ArrowDown" ? 1 : -1);
      if (stops[at]) {
        stops[at].focus();
        event.preventDefault();
      }
    });
    list.addEventListener("click", (event) => {
      if (event.target.closest("a") && box === dialog) dialog.close();
    });
  }

  function open() {
    dialog.showModal();
    const input = dialog.querySelector("[data-search-input]");
    input.focus();
    input.select();
  }

  for (const box of document.querySelectorAll("[data-search]")) setUp(box);
  for (const button of document.querySelectorAll("[data-search-open]")) {
    button.addEventListener("click", open);
  }
  dialog.querySelector("[data-search-close]").addEventListener("click", () => dialog.close());
  dialog.addEventListener("click", (event) => {
    if (event.target === dialog) dialog.close();
  });
})();
