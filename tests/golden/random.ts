/** Numbers from 0 to 1, the same for the same seed (xorshift32, Marsaglia 2003). Kept apart from the product's own. */
export function random(seed: number): () => number {
  let state = Math.imul(seed + 1, 0x9e3779b1) >>> 0 || 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    state >>>= 0;
    return state / 4_294_967_296;
  };
}
