import { Range } from '../../model/range.ts';

const INVENTED = 'sample figure, invented; not to be built from';

/**
 * A range to try things with. Every name and figure in it is invented, so that a first run shows
 * something; `sample` is true, and every output that rests on it says so.
 */
export function sampleRange(): Range {
  return Range.parse({
    name: 'Sample range (invented figures)',
    sample: true,
    fillers: [
      {
        name: 'sample tube 25/17',
        outsideMm: 25,
        boreMm: 17,
        lengthMm: 150,
        takesCableMm: { smallestMm: 12, largestMm: 16.5 },
        perPack: 20,
        source: INVENTED,
      },
      {
        name: 'sample tube 16/10',
        outsideMm: 16,
        boreMm: 10,
        lengthMm: 150,
        takesCableMm: { smallestMm: 5, largestMm: 9.5 },
        perPack: 50,
        source: INVENTED,
      },
    ],
    sealants: [
      {
        name: 'sample sealant',
        containers: [
          { sizeMl: 310, kind: 'cartridge' },
          { sizeMl: 600, kind: 'foil' },
        ],
        openTimeMin: 120,
        bond: [
          {
            substrate: 'concrete',
            condition: 'wet',
            duration: 'lasting',
            direction: 'any',
            shearKPa: 100,
            factor: 3,
            source: INVENTED,
          },
          {
            substrate: 'any',
            condition: 'wet',
            duration: 'lasting',
            direction: 'any',
            shearKPa: 60,
            factor: 3,
            source: INVENTED,
          },
        ],
        source: INVENTED,
      },
    ],
    packingAllowanceRatio: 0,
    tubeClearanceMm: 2,
    nozzleMm: 3,
    records: [
      {
        name: 'sample water record',
        duty: 'water',
        standard: 'sample test, invented',
        largestHeadM: 5,
        hostKinds: ['wall', 'slab', 'chamber', 'footing'],
        hostThicknessMm: { smallest: 150 },
        largestOpeningMm: { widthMm: 300, heightMm: 300 },
        smallestDepthMm: 20,
        faces: 1,
        largestCableMm: 60,
        smallestSeparationMm: 4,
        emptyTubes: true,
        source: INVENTED,
      },
      {
        name: 'sample fire record',
        duty: 'fire',
        standard: 'sample test, invented',
        rating: 'EI 60',
        hostKinds: ['wall', 'slab'],
        hostThicknessMm: { smallest: 150 },
        largestOpeningMm: { widthMm: 300, heightMm: 300 },
        smallestDepthMm: 20,
        faces: 2,
        largestCableMm: 50,
        smallestSeparationMm: 4,
        emptyTubes: true,
        source: INVENTED,
      },
    ],
    consumables: [
      { name: 'degreasing wipes', unit: 'pc', perFace: 2, perCable: 1, source: INVENTED },
      { name: 'gloves', unit: 'pair', perSeal: 1, source: INVENTED },
      { name: 'nozzles', unit: 'pc', perContainer: 1, source: INVENTED },
      { name: 'abrasive cloth', unit: 'pc', perFace: 1, source: INVENTED },
    ],
    tools: [
      { name: 'cartridge gun', perVisit: 2, forContainers: 'cartridge', source: INVENTED },
      { name: 'set-back gauge, 20 mm', perVisit: 2, source: INVENTED },
      { name: 'steps or tower', perVisit: 1, aboveMm: 2500, source: INVENTED },
    ],
    labour: [
      {
        name: 'sealing, two fitters',
        hoursPerSeal: 0.25,
        hoursPerFace: 0.2,
        hoursPerCable: 0.05,
        high: { aboveMm: 2500, factor: 1.25 },
        slabFactor: 1.1,
        wetFactor: 1.3,
        source: INVENTED,
      },
    ],
  });
}
