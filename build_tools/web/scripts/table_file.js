/**
 * A table from a file that the reader chooses: read in this page, shown in the field that it would be pasted into.
 * Nothing of it is sent or kept.
 */

// Ten thousand candidates need less; a larger file is no list of marks.
const LARGEST = 200_000;

/** Read a file into its field. box: the field's element; file: chosen by the reader. Returns whether it was read. */
export async function takeFile(box, file) {
  const told = box.querySelector(".calculator-file-told");
  const { text, fault } = await textOf(file);
  told.textContent = fault || `${file.name} was read into the field above, in this page alone.`;
  if (fault) return false;
  box.querySelector("textarea").value = text;
  return true;
}

async function textOf(file) {
  if (file.size > LARGEST) return { fault: `${file.name} is too large for a list of marks. Choose the file of one station.` };
  let bytes;
  try {
    bytes = new Uint8Array(await file.arrayBuffer());
  } catch {
    return { fault: `${file.name} cannot be read. Choose it again, or paste the table.` };
  }
  // A spreadsheet may save text two bytes a sign; the mark in front says in which order.
  const wide = bytes[0] === 0xff && bytes[1] === 0xfe ? "utf-16le" : bytes[0] === 0xfe && bytes[1] === 0xff ? "utf-16be" : "";
  const text = new TextDecoder(wide || "utf-8").decode(bytes);
  if (text.includes("\0")) return { fault: `${file.name} is no text. In the spreadsheet save the sheet as .csv, and choose that.` };
  if (text.trim() === "") return { fault: `${file.name} is empty. Choose the file that holds the marks.` };
  return { text: text.replaceAll("\r\n", "\n").replaceAll("\r", "\n").trimEnd() };
}
