import { describe, expect, test } from 'vitest';
import { awgAreaMm2, KCMIL_MM2 } from '../../src/read/schedule/conductor-size.ts';
import { type Designation, readDesignation } from '../../src/read/schedule/designation.ts';

type Said = Partial<Designation>;

function check(examples: readonly (readonly [string, Said])[]): void {
  test.each(examples)('%s', (text, said) => {
    expect(readDesignation(text)).toMatchObject(said);
  });
}

describe('harmonised designations: CENELEC HD 361 S3 (from memory)', () => {
  // Conductors, then G where one is green-and-yellow and X where none is, then the size.
  check([
    ['H07RN-F 3G1.5', { construction: 'H07RN-F', cores: 3, sizeMm2: 1.5, bodies: 1 }],
    ['H07RN-F 4G25', { construction: 'H07RN-F', cores: 4, sizeMm2: 25 }],
    ['H05VV-F 2X0,75', { construction: 'H05VV-F', cores: 2, sizeMm2: 0.75 }],
    ['H07V-K 1X16', { construction: 'H07V-K', cores: 1, sizeMm2: 16 }],
    ['5G6 H07ZZ-F', { construction: 'H07ZZ-F', cores: 5, sizeMm2: 6 }],
  ]);
});

describe('German designations: DIN VDE 0271, 0276 and 0815 (from memory)', () => {
  check([
    ['NYY-J 5x10', { construction: 'NYY-J', cores: 5, sizeMm2: 10, bodies: 1 }],
    ['NYY-J 5x10 RE 0,6/1 kV', { cores: 5, sizeMm2: 10, voltage: '0,6/1 kV' }],
    // The concentric conductor behind the stroke is in the same cable.
    ['NYCWY 4x35/16', { construction: 'NYCWY', cores: 4, sizeMm2: 35, otherConductor: '16' }],
    ['NYY-J 3x70+35', { cores: 3, sizeMm2: 70, otherConductor: '+35', alongside: null }],
    [
      'NA2XS(F)2Y 1x240RM/25 12/20 kV',
      { cores: 1, sizeMm2: 240, bodies: 1, otherConductor: '25', voltage: '12/20 kV' },
    ],
    ['N2XSY 1x240/25', { construction: 'N2XSY', cores: 1, sizeMm2: 240, otherConductor: '25' }],
    // Sector-shaped stranded conductors, not single-mode fibre.
    ['(N)A2XH-J 4x240 SM', { cores: 4, sizeMm2: 240, isFibre: false }],
    ['A-DQ(ZN)B2Y 24E9/125', { cores: 24, isFibre: true }],
    ['3x1x240 RM/35', { cores: 1, sizeMm2: 240, bodies: 3, bundle: 'trefoil' }],
    // Telephone cables: pairs, and the wire's diameter instead of a size.
    ['J-Y(St)Y 4x2x0,8', { construction: 'J-Y(St)Y', cores: 8, bodies: 1 }],
    ['LiYCY 4x2x0,75', { construction: 'LiYCY', cores: 8, sizeMm2: 0.75, bodies: 1 }],
  ]);

  test('0.8 mm of wire are 0.503 mm²', () => {
    expect(readDesignation('J-Y(St)Y 4x2x0,8').sizeMm2).toBeCloseTo(0.5027, 4);
  });
});

describe('French designations: NF C 32-321 (from memory)', () => {
  check([
    ['U-1000 R2V 3G2,5', { construction: 'U-1000 R2V', cores: 3, sizeMm2: 2.5 }],
    ['U-1000 R2V 4x16', { construction: 'U-1000 R2V', cores: 4, sizeMm2: 16 }],
    ['U-1000 AR2V 3x150+70', { cores: 3, sizeMm2: 150, otherConductor: '+70' }],
  ]);
});

describe('Belgian, Dutch, Italian, Nordic, Polish, Czech and Spanish designations (from memory)', () => {
  check([
    ['XVB 5G10', { construction: 'XVB', cores: 5, sizeMm2: 10 }],
    ['YMvK 5G6', { construction: 'YMvK', cores: 5, sizeMm2: 6 }],
    ['FG16OR16 3G2,5', { construction: 'FG16OR16', cores: 3, sizeMm2: 2.5 }],
    ['FG7(O)R 4x25', { construction: 'FG7(O)R', cores: 4, sizeMm2: 25 }],
    ['EKKJ 3x10/10', { construction: 'EKKJ', cores: 3, sizeMm2: 10, otherConductor: '10' }],
    ['MCMK 3x6+6', { construction: 'MCMK', cores: 3, sizeMm2: 6, otherConductor: '+6' }],
    ['PFSP 4x16/16', { construction: 'PFSP', cores: 4, sizeMm2: 16, otherConductor: '16' }],
    ['YKYżo 5x10', { construction: 'YKYżo', cores: 5, sizeMm2: 10 }],
    ['CYKY-J 5x2,5', { construction: 'CYKY-J', cores: 5, sizeMm2: 2.5 }],
    ['RV-K 3G2,5', { construction: 'RV-K', cores: 3, sizeMm2: 2.5 }],
  ]);
});

describe('Indian schedules: IS 1554 and IS 7098 cables by runs and half cores (from memory)', () => {
  check([
    ['2R x 3.5C x 240', { cores: 3, sizeMm2: 240, bodies: 2, otherConductor: '½ core' }],
    ['1Rx3Cx240 sqmm', { cores: 3, sizeMm2: 240, bodies: 1 }],
  ]);
});

describe('British schedules: BS 5467 and BS 6724 cables as engineers write them (from memory)', () => {
  check([
    ['4c x 16 SWA', { construction: 'SWA', cores: 4, sizeMm2: 16, bodies: 1 }],
    ['4C x 16mm² XLPE/SWA/PVC', { construction: 'XLPE/SWA/PVC', cores: 4, sizeMm2: 16 }],
    ['4 core 16mm2 SWA BS 5467', { cores: 4, sizeMm2: 16, standard: 'BS 5467' }],
    ['5-core 6 sq.mm SWA', { cores: 5, sizeMm2: 6 }],
    ['4cx16 SWA', { cores: 4, sizeMm2: 16 }],
    ['4x16mm²', { construction: null, cores: 4, sizeMm2: 16 }],
    // Three single cores and an earth of its own beside them.
    ['3x1c 185 + E', { cores: 1, sizeMm2: 185, bodies: 3, bundle: 'trefoil', alongside: '+ E' }],
    ['3 x (1x185) XLPE/AWA/PVC flat', { cores: 1, sizeMm2: 185, bodies: 3, bundle: 'flat' }],
    ['2//(4c 240)', { cores: 4, sizeMm2: 240, bodies: 2, bundle: null }],
    ['2 No. 4c 240 SWA', { cores: 4, sizeMm2: 240, bodies: 2 }],
    ['2x3x1c 300', { cores: 1, sizeMm2: 300, bodies: 6, bundle: 'trefoil' }],
    ['1c 630', { cores: 1, sizeMm2: 630, bodies: 1 }],
    ['7c1.5', { cores: 7, sizeMm2: 1.5 }],
    ['10pr 0.5', { cores: 20, sizeMm2: 0.5 }],
    ['Cat6A U/UTP 4 pair', { construction: 'Cat6A U/UTP', cores: 8, sizeMm2: null }],
    // The size may stand first; the earth before a size is a core, behind it a conductor alongside.
    ['16mm² 4 core', { cores: 4, sizeMm2: 16, bodies: 1 }],
    ['6 mm 3 core SWA', { cores: 3, sizeMm2: 6, bodies: 1 }],
    ['2c+E 2.5 mm²', { cores: 3, sizeMm2: 2.5, alongside: null }],
    ['3c 2.5 + E', { cores: 3, sizeMm2: 2.5, alongside: '+ E' }],
    ['1x70 G/Y', { cores: 1, sizeMm2: 70 }],
    ['Cat 6A', { construction: 'Cat6A', sizeMm2: null }],
    ['Cat.7 S/FTP 4x2xAWG23', { cores: 8, bodies: 1 }],
    ['12xOM4', { cores: 12, isFibre: true }],
    ['24 fibre', { cores: 24, sizeMm2: null, isFibre: true }],
    ['12 core SM 9/125 fibre', { cores: 12, isFibre: true }],
    ['48 FO OS2', { cores: 48, isFibre: true }],
  ]);
});

describe('American schedules: NEC chapter 9 (from memory)', () => {
  check([
    ['3/C #12 AWG', { cores: 3, bodies: 1 }],
    ['MC 3/C #2 AWG', { construction: 'MC', cores: 3, bodies: 1 }],
    ['TC-ER 3/C 2 AWG', { construction: 'TC-ER', cores: 3, bodies: 1 }],
    ['3-1/C 500 kcmil XHHW', { construction: 'XHHW', cores: 1, bodies: 3 }],
    ['(3) 1/C 4/0 AWG XHHW-2', { construction: 'XHHW-2', cores: 1, bodies: 3 }],
    ['18 AWG 2/C shielded', { cores: 2, bodies: 1 }],
    ['16 AWG 1 TSP', { cores: 2, bodies: 1 }],
    // Wires in a conduit: four of 12 AWG, and a ground beside them.
    ['4#12, 1#12G', { cores: 1, bodies: 4, alongside: '+ 1x1c 12 AWG' }],
    ['500 kcmil THHN', { construction: 'THHN' }],
    ['1/0 AWG THHN', { construction: 'THHN' }],
  ]);

  // Areas in circular mils: NEC ch. 9 table 8, 12 AWG 6,530 and 4/0 AWG 211,600 (from memory).
  test.each([
    [12, 6530],
    [0, 105_600],
    [-3, 211_600],
  ])('gauge %d has %d circular mils', (gauge, circularMils) => {
    expect(awgAreaMm2(gauge)).toBeCloseTo((circularMils / 1000) * KCMIL_MM2, gauge > 0 ? 2 : 1);
  });

  test('500 kcmil are 253.35 mm²', () => {
    expect(readDesignation('500 kcmil THHN').sizeMm2).toBeCloseTo(253.35, 2);
  });
});

test('what may be read in two ways is a doubt', () => {
  expect(readDesignation('2x2x2.5').doubts).toHaveLength(1);
  expect(readDesignation('2x3x240').doubts).toHaveLength(0);
});

test('any text is read without an error, and in time', () => {
  for (const text of [
    '',
    '(((((',
    '4x'.repeat(5000),
    '1/'.repeat(5000),
    'A-'.repeat(5000),
    '++4//x',
  ]) {
    expect(readDesignation(text).bodies).toBeGreaterThan(0);
  }
});
