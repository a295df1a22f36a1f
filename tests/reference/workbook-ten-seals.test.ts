import ExcelJS from 'exceljs';
import { expect } from 'vitest';
import { sealantQuantity } from '../../src/design/quantities.ts';
import { type Shape, shapeAreaMm2 } from '../../src/geometry/shape.ts';
import type { Seal } from '../../src/model/seal.ts';
import { writeWorkbook } from '../../src/write/workbook/write-workbook.ts';
import { makeIssue, makeSettings } from '../makers/issue/make-issue.ts';
import { makePenetration } from '../makers/issue/make-penetration.ts';
import { makeSeal, placed } from '../makers/issue/make-seal.ts';
import { convertWorkbook } from '../set-up/libreoffice.ts';
import { testWith } from '../set-up/outside.ts';
import { svgToPng } from '../set-up/svg-to-png.ts';

// Ten seals measured by the design and worked again by formula in LibreOffice. The first is the
// trade's case of three 37 mm cables in a 150 mm duct: 14,445.8 mm² free and 288.9 ml at 20 mm;
// 349.6 ml with 2 mm overfill and 10 % waste (shared reference, take-off cases).

const OPENINGS: readonly Shape[] = [
  { type: 'circle', diameterMm: 150 },
  { type: 'circle', diameterMm: 103.6 },
  { type: 'rectangle', widthMm: 300, heightMm: 200 },
  { type: 'rectangle', widthMm: 612.5, heightMm: 87.25 },
  { type: 'slot', lengthMm: 400, widthMm: 120 },
  { type: 'slot', lengthMm: 333.3, widthMm: 111.1 },
  { type: 'oval', lengthMm: 160, widthMm: 140 },
  { type: 'oval', lengthMm: 212.5, widthMm: 187.5 },
  {
    type: 'polygon',
    pointsMm: [
      [-150, -100],
      [150, -100],
      [150, 0],
      [0, 0],
      [0, 120],
      [-150, 120],
    ],
  },
  { type: 'circle', diameterMm: 76.1 },
];

const SETTINGS = makeSettings({ design: { overfillMm: 2, wasteRatio: 0.1 } });

function tenSeals(): Seal[] {
  return OPENINGS.map((opening, at) => {
    const count = at === 0 ? 3 : 1;
    const diameterMm = at === 0 ? 37 : 12 + at;
    const items = Array.from({ length: count }, (_, no) =>
      placed({ ref: `C-${no}`, xMm: -40 + 40 * no, yMm: 0, diameterMm }),
    );
    const setBackMm = at % 3 === 2 ? 25 : 20;
    const faces = at % 2 === 1 ? 2 : 1;
    const freeAreaMm2 = shapeAreaMm2(opening) - (count * Math.PI * diameterMm ** 2) / 4;
    const [sealant] = makeIssue().range.sealants;
    if (sealant === undefined) throw new Error('no sealant');
    return makeSeal(opening, items, {
      id: `p${at}/annulus`,
      penetrationId: `p${at}`,
      typeKey: `t${at}`,
      setBackMm,
      faces,
      freeAreaMm2,
      sealant: sealantQuantity(sealant, freeAreaMm2, setBackMm, faces, SETTINGS.design),
    });
  });
}

testWith(['libreoffice'], 'ten seals worked by formula agree with the design', async () => {
  const seals = tenSeals();
  const penetrations = OPENINGS.map((shape, at) => makePenetration(`p${at}`, { shape }));
  const bytes = await writeWorkbook(
    makeIssue({
      settings: SETTINGS,
      penetrations,
      tags: new Map(penetrations.map(({ id }) => [id, id])),
      seals,
    }),
    { svgToPng },
  );
  const workbook = new ExcelJS.Workbook();
  await workbook.xlsx.load(convertWorkbook(bytes, 'xlsx').buffer as ArrayBuffer);
  const sheet = workbook.getWorksheet('Quantities');
  const heads = new Map<string, number>();
  sheet?.getRow(5).eachCell((cell, column) => {
    heads.set(cell.text, column);
  });
  const worked = (heading: string, at: number) => {
    const cell = sheet?.getCell(6 + at, heads.get(heading) ?? 0);
    expect(cell?.type, `${heading} of seal ${at} is a formula`).toBe(ExcelJS.ValueType.Formula);
    return cell?.result;
  };
  for (const [at, seal] of seals.entries()) {
    expect(worked('Net ml', at)).toBeCloseTo(seal.sealant?.netMl ?? -1, 9);
    expect(worked('With allowances ml', at)).toBeCloseTo(seal.sealant?.withAllowancesMl ?? -1, 9);
    expect(worked('Free area mm²', at)).toBeCloseTo(seal.freeAreaMm2 ?? -1, 6);
  }
  expect(worked('Free area mm²', 0)).toBeCloseTo(14_445.8, 1);
  expect(worked('Net ml', 0)).toBeCloseTo(288.9, 1);
  expect(worked('With allowances ml', 0)).toBeCloseTo(349.6, 1);
});
