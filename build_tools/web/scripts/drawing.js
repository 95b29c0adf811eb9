/**
 * The drawing of a result, from the whole steps that the door answers with.
 * build_tools/figures/result_drawing.py makes the same for the worked example; a test holds the two together.
 */

const SVG = "http://www.w3.org/2000/svg";
const TICK = 5;
// From the frame to the words of a tick, and from a sheet's foot to the name of the axis.
const BELOW = 18;
const BESIDE = 8;
const FOOT = 8;
// Words stand on their line; this lowers them to the middle of a tick.
const MIDDLE = 4;

/** Put a drawing into its place, or empty it. figure: the element; drawing: of a result, or null; title: its name. */
export function draw(figure, drawing, title) {
  figure.hidden = !drawing;
  figure.replaceChildren();
  if (!drawing) return;
  const caption = document.createElement("figcaption");
  caption.textContent = drawing.says;
  figure.append(picture(drawing, title), caption);
}

function picture(drawing, title) {
  const [left, top, right, bottom] = drawing.frame;
  const { across, up } = drawing;
  // What it says stands under it, so the picture need only be named.
  const svg = part("svg", { viewBox: `0 0 ${drawing.width} ${drawing.height}`, class: "result-drawing", role: "img",
    "aria-label": title });
  svg.append(stroke([...(up ? [[left, top]] : []), [left, bottom], [right, bottom]], "drawing-axis"));
  for (const [x, words] of across.ticks) {
    svg.append(stroke([[x, bottom], [x, bottom + TICK]], "drawing-axis"), written(x, bottom + BELOW, words, "middle"));
  }
  svg.append(written((left + right) / 2, drawing.height - FOOT, across.label, "middle"));
  if (up) {
    for (const [y, words] of up.ticks) {
      svg.append(stroke([[left - TICK, y], [left, y]], "drawing-axis"), written(left - BESIDE, y + MIDDLE, words, "end"));
    }
    svg.append(written(left + BESIDE, top + MIDDLE, up.label));
  }
  for (const [kind, x, y, endX, endY] of drawing.lines) {
    svg.append(stroke([[x, y], [endX, endY]], `drawing-line drawing-${kind}`));
  }
  for (const [kind, x, y, r] of drawing.points) {
    svg.append(part("circle", { cx: x, cy: y, r, class: `drawing-point drawing-${kind}` }));
  }
  return svg;
}

function part(name, attributes) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) if (value !== undefined) made.setAttribute(key, value);
  return made;
}

function stroke(points, className) {
  return part("path", { d: "M" + points.map(([x, y]) => `${x} ${y}`).join("L"), class: className });
}

function written(x, y, words, anchor) {
  const made = part("text", { x, y, "text-anchor": anchor });
  made.textContent = words;
  return made;
}
