// What Node and the browser both have, and the core may use.
declare class TextDecoder {
  constructor(label?: string, options?: { fatal?: boolean; ignoreBOM?: boolean });
  decode(input?: Uint8Array, options?: { stream?: boolean }): string;
}
declare class TextEncoder {
  encode(input?: string): Uint8Array<ArrayBuffer>;
  encodeInto(source: string, destination: Uint8Array): { read: number; written: number };
}
declare class URL {
  constructor(url: string, base?: string);
  readonly href: string;
}
