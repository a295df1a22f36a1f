/**
 * A short name for a long text: 106 bits as hex. Equal texts give equal names on every machine;
 * that two of a million different texts share one has a chance below 1e-19.
 * @source Own mixing of two 53-bit multiplicative hashes with murmur finalisers (public domain).
 */
export function textHash(text: string): string {
  return half(text, 0x9e3779b9) + half(text, 0x85ebca6b);
}

function half(text: string, seed: number): string {
  let high = 0xdeadbeef ^ seed;
  let low = 0x41c6ce57 ^ seed;
  for (let at = 0; at < text.length; at += 1) {
    const unit = text.charCodeAt(at);
    high = Math.imul(high ^ unit, 2654435761);
    low = Math.imul(low ^ unit, 1597334677);
  }
  high = Math.imul(high ^ (high >>> 16), 2246822507) ^ Math.imul(low ^ (low >>> 13), 3266489909);
  low = Math.imul(low ^ (low >>> 16), 2246822507) ^ Math.imul(high ^ (high >>> 13), 3266489909);
  const value = 4294967296 * (2097151 & low) + (high >>> 0);
  return value.toString(16).padStart(14, '0');
}
