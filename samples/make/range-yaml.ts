export const RANGE_FILE = 'range.yaml';

/** Invented fillers and sealants, marked as such on every value. */
export function rangeYaml(): string {
  return `# SAMPLE RANGE. Every figure here is invented so that the sample can run.
# Nothing may be ordered, built or judged from it: put your own range in its place, with a source
# (data sheet, test report) on every value.
name: Sample range (invented)
sample: true
currency: EUR

# Hollow tubes that keep cables apart and carry the sealant.
fillers:
  - name: Filler 25
    outsideMm: 25
    boreMm: 17
    lengthMm: 200
    # Split along its length it takes a cable of this diameter.
    takesCableMm: { smallestMm: 10, largestMm: 17 }
    perPack: 25
    source: invented for the sample
  - name: Filler 16
    outsideMm: 16
    boreMm: 9
    lengthMm: 200
    takesCableMm: { smallestMm: 4, largestMm: 9 }
    perPack: 50
    source: invented for the sample

sealants:
  - name: Sealant S
    containers:
      - { sizeMl: 310, kind: cartridge, price: 20 }
      - { sizeMl: 600, kind: foil, price: 34 }
    openTimeMin: 20
    # Shear that the bond may carry, already divided by the factor.
    bond:
      - substrate: concrete
        condition: dry
        duration: lasting
        direction: against fillers
        shearKPa: 60
        factor: 3
        source: invented for the sample
      - substrate: concrete
        condition: wet
        duration: lasting
        direction: against fillers
        shearKPa: 30
        factor: 3
        source: invented for the sample
      - substrate: PVC
        condition: any
        duration: lasting
        direction: against fillers
        shearKPa: 40
        factor: 3
        source: invented for the sample
      - substrate: any
        condition: any
        duration: any
        direction: off the face
        shearKPa: 10
        factor: 3
        source: invented for the sample
    source: invented for the sample

# Tubes are soft and packed tight: this part of their outside gives way.
packingAllowanceRatio: 0.05
# A tube takes a cable only when its bore is larger by this.
tubeClearanceMm: 2

# One record a test. A duty is inside the evidence only when one record covers every point.
records:
  - name: Water test W1 (invented)
    duty: water
    standard: none, invented for the sample
    largestHeadM: 5
    hostKinds: [wall, slab]
    hostThicknessMm: { smallest: 200 }
    largestOpeningMm: { widthMm: 200, heightMm: 200 }
    smallestDepthMm: 20
    faces: 1
    largestCableMm: 40
    smallestSeparationMm: 4
    emptyTubes: true
    source: invented for the sample
  - name: Fire test F1 (invented)
    duty: fire
    standard: none, invented for the sample
    rating: EI 120
    hostKinds: [wall]
    hostThicknessMm: { smallest: 200 }
    largestOpeningMm: { widthMm: 150, heightMm: 150 }
    smallestDepthMm: 25
    faces: 2
    largestCableMm: 21
    smallestSeparationMm: 5
    emptyTubes: false
    source: invented for the sample

# Small materials by what is done; your own norms go here.
consumables:
  - name: Nozzle
    unit: piece
    perContainer: 1
    price: 0.8
    source: invented for the sample
  - name: Degreasing wipe
    unit: piece
    perSeal: 2
    perCable: 0.5
    price: 0.4
    source: invented for the sample
  - name: Pair of gloves
    unit: pair
    perSeal: 1
    price: 0.3
    source: invented for the sample
  - name: Set-back gauge
    unit: piece
    perFace: 0.05
    price: 6
    source: invented for the sample
`;
}
