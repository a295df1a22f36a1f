import { lowestText } from '../basics/order.ts';

/** An element of a source file: the file's key in the project, and the id the file gives it. */
export interface ElementRef {
  readonly fileKey: string;
  /** GlobalId of a model, handle of a drawing (with a tie-break where a file repeats it). */
  readonly id: string;
}

/** Id of an element in the whole project: `fileKey:GlobalId` or `fileKey:handle`. */
export function elementId(ref: ElementRef): string {
  return `${ref.fileKey}:${ref.id}`;
}

/**
 * The id as the file itself gives it: a repeated GlobalId without the tie-break that tells its
 * bearers apart here.
 */
export function idInFile({ id }: ElementRef): string {
  return id.replace(/^(.{22})~[0-9a-f]{8}(\.\d+)?$/, '$1');
}

/**
 * Id of a penetration: the lowest host id and the lowest opening id, or without an opening the
 * lowest service id and the count of the crossing along its run (0 for the first).
 */
export function penetrationId(
  hostIds: readonly string[],
  through:
    | { readonly openingIds: readonly string[] }
    | { readonly serviceIds: readonly string[]; readonly crossing: number },
): string {
  const host = lowestText(hostIds) ?? 'no-host';
  if ('openingIds' in through) return `${host}/${lowestText(through.openingIds) ?? 'no-opening'}`;
  return `${host}/${lowestText(through.serviceIds) ?? 'no-service'}/${through.crossing}`;
}
