/**
 * Gives memory back at once that nobody looks at any more; what lies there is empty from then on. A thread makes so few objects
 * that its collector comes by seldom, and up to 60 MB of bytes wait for it. Only for bytes that have all of their memory to
 * themselves: what Node cuts small buffers from has others in it, and stays.
 */
export function giveBack(bytes: ArrayBufferView): void {
  const { buffer } = bytes;
  if (buffer instanceof ArrayBuffer && bytes.byteLength === buffer.byteLength) buffer.transfer(0);
}
