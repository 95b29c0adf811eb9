/**
 * Links that carry what stands in a form, for a colleague or a class.
 *
 * The entries stand after the "#" of the address, which a browser keeps to itself: no server learns of them.
 * A link names the format it was made in, so that a later version can tell what it reads.
 */

export const FORMAT = "1";
const LONGEST = 80;

/** The address of a calculator with these entries. request: {answers, units} as the form reads them. */
export function linkTo(calculator, request, address) {
  const parts = new URLSearchParams({ sum: calculator, format: FORMAT });
  for (const [field, text] of Object.entries(request.answers)) if (text.trim()) parts.set(field, text.trim());
  for (const [input, unit] of Object.entries(request.units)) parts.set("unit." + input, unit);
  return address.split("#")[0] + "#" + parts;
}

/** What a link holds for a calculator: null if nothing, else {known: whether the format is, texts: Map}. */
export function linkedEntries(calculator, hash) {
  const parts = new URLSearchParams(hash.slice(1));
  if (parts.get("sum") !== calculator) return null;
  const texts = new Map([...parts].map(([name, text]) => [name, text.slice(0, LONGEST)]));
  return { known: parts.get("format") === FORMAT, texts };
}
