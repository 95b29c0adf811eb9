/** Whether two engines gave the same answer: the same words, and numbers equal but for the last bits. */

const NEAR = 1e-12;

/** @returns {boolean} whether two answers of the door (parsed JSON) say the same */
export function agree(first, second) {
  if (typeof first === "number" && typeof second === "number") {
    const apart = Math.abs(first - second);
    return apart <= NEAR || apart <= NEAR * Math.max(Math.abs(first), Math.abs(second));
  }
  if (first === null || second === null || typeof first !== "object" || typeof second !== "object") {
    return first === second;
  }
  if (Array.isArray(first) !== Array.isArray(second)) return false;
  const names = Object.keys(first);
  if (names.length !== Object.keys(second).length) return false;
  return names.every((name) => name in second && agree(first[name], second[name]));
}
