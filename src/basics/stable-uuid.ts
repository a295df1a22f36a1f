/**
 * Ids that follow from a name: the same name gives the same id on every machine and in every run.
 *
 * @source RFC 9562, clause 5.5 (UUID version 5); FIPS 180-4, clause 6.1 (SHA-1). SHA-1 is used for
 * spreading, not for secrecy.
 */

/** Namespace of all our ids; made once, never changed. */
const OUR_BYTES = namespaceBytes('b5f0a9f2-6d35-4b1e-9f43-2f7c0d5a8e11');

/** UUID of a name within our namespace, lower case with hyphens. */
export function stableUuid(name: string): string {
  return uuidText(stableBytes(name));
}

/** The 16 bytes of `stableUuid`. */
export function stableBytes(name: string): Uint8Array {
  return bytesV5(OUR_BYTES, name);
}

/** UUID version 5 of a name within a namespace. */
export function uuidV5(namespace: string, name: string): string {
  return uuidText(bytesV5(namespaceBytes(namespace), name));
}

function bytesV5(namespace: Uint8Array, name: string): Uint8Array {
  const text = ENCODER.encode(name);
  const input = new Uint8Array(16 + text.length);
  input.set(namespace);
  input.set(text, 16);
  const digest = sha1(input);
  digest[6] = ((digest[6] ?? 0) & 0x0f) | 0x50;
  digest[8] = ((digest[8] ?? 0) & 0x3f) | 0x80;
  return digest.subarray(0, 16);
}

function namespaceBytes(uuid: string): Uint8Array {
  const digits = uuid.replaceAll('-', '');
  return Uint8Array.from({ length: 16 }, (_, at) =>
    Number.parseInt(digits.slice(at * 2, at * 2 + 2), 16),
  );
}

function uuidText(bytes: Uint8Array): string {
  let uuid = '';
  for (let i = 0; i < 16; i++) {
    if (i === 4 || i === 6 || i === 8 || i === 10) uuid += '-';
    uuid += HEX[bytes[i] ?? 0];
  }
  return uuid;
}

const ENCODER = new TextEncoder();
const HEX = Array.from({ length: 256 }, (_, byte) => byte.toString(16).padStart(2, '0'));

/** SHA-1 digest, 20 bytes. */
export function sha1(input: Uint8Array): Uint8Array {
  const state = Uint32Array.of(0x67452301, 0xefcdab89, 0x98badcfe, 0x10325476, 0xc3d2e1f0);
  const padded = padMessage(input);
  const view = new DataView(padded.buffer);
  for (let block = 0; block < padded.length; block += 64) addBlock(state, view, block);
  const digest = new Uint8Array(20);
  const out = new DataView(digest.buffer);
  state.forEach((word, index) => {
    out.setUint32(index * 4, word);
  });
  return digest;
}

function padMessage(input: Uint8Array): Uint8Array<ArrayBuffer> {
  const length = Math.ceil((input.length + 9) / 64) * 64;
  const padded = new Uint8Array(length);
  padded.set(input);
  padded[input.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(length - 8, Math.floor(input.length / 2 ** 29));
  view.setUint32(length - 4, (input.length * 8) >>> 0);
  return padded;
}

const turnLeft = (word: number, bits: number) => (word << bits) | (word >>> (32 - bits));

/** Room for one block, filled anew each time: a model's tags take a hundred thousand of them. */
const words = new Int32Array(80);

function addBlock(state: Uint32Array, view: DataView, block: number): void {
  for (let t = 0; t < 16; t++) words[t] = view.getInt32(block + t * 4);
  for (let t = 16; t < 80; t++) {
    const mixed =
      (words[t - 3] ?? 0) ^ (words[t - 8] ?? 0) ^ (words[t - 14] ?? 0) ^ (words[t - 16] ?? 0);
    words[t] = turnLeft(mixed, 1);
  }
  let [a = 0, b = 0, c = 0, d = 0, e = 0] = state;
  for (let t = 0; t < 80; t++) {
    const next = (turnLeft(a, 5) + roundFunction(t, b, c, d) + e + (words[t] ?? 0)) | 0;
    e = d;
    d = c;
    c = turnLeft(b, 30);
    b = a;
    a = next;
  }
  state[0] = (state[0] ?? 0) + a;
  state[1] = (state[1] ?? 0) + b;
  state[2] = (state[2] ?? 0) + c;
  state[3] = (state[3] ?? 0) + d;
  state[4] = (state[4] ?? 0) + e;
}

/** Function and constant of one round together. */
function roundFunction(t: number, b: number, c: number, d: number): number {
  if (t < 20) return ((b & c) ^ (~b & d)) + 0x5a827999;
  if (t < 40) return (b ^ c ^ d) + 0x6ed9eba1;
  if (t < 60) return ((b & c) ^ (b & d) ^ (c & d)) + 0x8f1bbcdc;
  return (b ^ c ^ d) + 0xca62c1d6;
}
