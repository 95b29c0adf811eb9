/** The page's own text on what to look for: of all its parts, only those of what is chosen are shown. */

/**
 * @param {Element} heading over the parts, each of which begins with a heading of the third level
 * @returns {{show: (ids: string[]) => void}} ids: of the headings whose parts are to be seen
 */
export function sectionsOf(heading) {
  const parts = [];
  let next = heading?.nextElementSibling;
  while (next && next.tagName !== "H2") {
    const here = next;
    next = next.nextElementSibling;
    if (here.tagName === "H3") {
      const part = document.createElement("section");
      part.setAttribute("aria-labelledby", here.id);
      here.before(part);
      parts.push({ id: here.id, part });
    }
    parts.at(-1)?.part.append(here);
  }
  return {
    show(ids) {
      for (const { id, part } of parts) part.hidden = !ids.includes(id);
    },
  };
}
