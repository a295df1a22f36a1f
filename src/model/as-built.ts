import { z } from 'zod';

/**
 * What the site record holds of one seal. A field that nobody filled in is absent and counts as
 * unverified. All are text, as typed: a sheet filled in by hand on site is not refused for its form.
 */
export const SITE_FIELDS = [
  'prepared',
  'substrate',
  /** Opening as measured: "150" by diameter, "300x200" by width and height; mm. */
  'openingMm',
  'cablesApart',
  /** Whether cables and tubes stand as the drawing shows them. */
  'asDrawn',
  'fillersNear',
  'fillersFar',
  'depthNearMm',
  'depthFarMm',
  'batch',
  'expiry',
  'sealed',
  'inspected',
  'by',
  'date',
  /** Number of the photograph, or the SHA-256 of its file. */
  'photograph',
  'defects',
] as const;

export type SiteField = (typeof SITE_FIELDS)[number];

/** Fields of one seal, and where they were last given. */
const SealAsBuilt = z.strictObject({
  fields: z.partialRecord(z.enum(SITE_FIELDS), z.string()),
  revision: z.string(),
  from: z.string(),
});

/** As-built state of a penetration by seal: `annulus`, or `bore/` and the crossing. */
export const AsBuilt = z.record(z.string(), SealAsBuilt);

export type SealAsBuilt = z.infer<typeof SealAsBuilt>;
export type AsBuilt = z.infer<typeof AsBuilt>;

/** Name of a seal within its penetration, under which its as-built state is kept. */
export function sealKeyOf(seal: { readonly id: string; readonly penetrationId: string }): string {
  const prefix = `${seal.penetrationId}/`;
  return seal.id.startsWith(prefix) ? seal.id.slice(prefix.length) : seal.id;
}

/** Whether work stands there that a change of design would open. */
export function isInstalled({ fields }: SealAsBuilt): boolean {
  return fields.sealed?.toLowerCase() === 'yes';
}
