import { IfcMaker } from '../makers/ifc/ifc-maker.ts';
import type { TextCase } from './corpus-case.ts';

/** A wall 4000 × 200 × 3000 with a round opening and a pipe through it; #1 to #71. */
export function soundModel(): string {
  const m = new IfcMaker({ schema: 'IFC4' });
  const wall = m.wall({ at: [0, 0, 0], length: 4000, thickness: 200, height: 3000 });
  m.opening(wall, { at: [1000, 0, 1500], axis: [0, 1, 0], outline: { circle: 150 }, depth: 300 });
  m.segment('pipe', { from: [1000, -500, 1500], to: [1000, 500, 1500], outline: { circle: 110 } });
  return m.toText();
}

const PIPE = "#70=IFCPIPESEGMENT('0000000000000000000009',#5,$,$,$,#69,#64,$,.RIGIDSEGMENT.);";
const WALL = "#39=IFCWALL('0000000000000000000006',#5,$,$,$,#38,#33,$,.STANDARD.);";
const HOLE = "#54=IFCOPENINGELEMENT('0000000000000000000007',#5,$,$,$,#53,#48,$,.OPENING.);";

/** Records #900 to #929, each made from the next number. */
const doubled = (record: (next: number) => string): string =>
  Array.from({ length: 30 }, (_, n) => `#${900 + n}=${record(901 + n)};`).join('\n');

/** What stands in the sound model, and what stands there instead. */
export const IFC_EDITS: readonly TextCase[] = [
  [
    'nothing changed',
    '',
    '',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  // The file around the records. ISO 10303-21, clauses 5 to 10.
  [
    'no begin mark',
    'ISO-10303-21;',
    '',
    'REFUSED input-unreadable: The file is no STEP file: it does not begin with ISO-10303-21.',
  ],
  [
    'begin mark in small letters',
    'ISO-10303-21;\nHEADER',
    'iso-10303-21;\nHEADER',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'a byte order mark before it',
    'ISO-10303-21;\nHEADER',
    '\ufeffISO-10303-21;\nHEADER',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'a comment before it',
    'ISO-10303-21;\nHEADER',
    '/* x */ISO-10303-21;\nHEADER',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'a comment before it that does not end',
    'ISO-10303-21;\nHEADER',
    '/* xISO-10303-21;\nHEADER',
    'REFUSED input-unreadable: The file is cut short: its data section does not end.',
  ],
  [
    'records before the data section',
    'DATA;\n#1=',
    '#6=IFCSIUNIT(*,.LENGTHUNIT.,.KILO.,.METRE.);\nDATA;\n#1=',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'most records before the data section',
    /DATA;\n([\s\S]*)(#71=)/,
    '#8=IFCUNITASSIGNMENT((#6,#7));IFCRELASSOCIATESMATERIAL#6= IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);\nDATA;\n#71=',
    '0 hosts, 0 services, 0 openings, 0 found; dangling-reference, units-missing',
  ],
  [
    'no schema',
    "FILE_SCHEMA(('IFC4'));\n",
    '',
    'REFUSED input-unreadable: The header names no schema.',
  ],
  [
    'a schema nobody knows',
    "(('IFC4'))",
    "(('IFC9'))",
    'REFUSED input-unreadable: The schema IFC9 is not one of IFC2X3, IFC4 and IFC4X3.',
  ],
  [
    'an old schema',
    "(('IFC4'))",
    "(('IFC2X2_FINAL'))",
    'REFUSED input-unreadable: The schema IFC2X2_FINAL is not one of IFC2X3, IFC4 and IFC4X3.',
  ],
  [
    'a schema of another trade',
    "(('IFC4'))",
    "(('AUTOMOTIVE_DESIGN'))",
    'REFUSED input-unreadable: The schema AUTOMOTIVE_DESIGN is not one of IFC2X3, IFC4 and IFC4X3.',
  ],
  [
    'a schema in small letters',
    "(('IFC4'))",
    "(('ifc4'))",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'no header',
    /HEADER[\s\S]*?ENDSEC;\n/,
    '',
    'REFUSED input-unreadable: The header names no schema.',
  ],
  [
    'no data mark',
    'DATA;\n',
    '',
    'REFUSED input-unreadable: The file is cut short: its data section does not end.',
  ],
  [
    'data section not closed',
    'ENDSEC;\nEND-ISO',
    'END-ISO',
    'REFUSED input-unreadable: The file is cut short: its data section does not end.',
  ],
  [
    'no end mark',
    'END-ISO-10303-21;',
    '',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'cut within a record',
    /#55=[\s\S]*/,
    '#55=IFCRELVOIDSELEMENT(',
    'REFUSED input-unreadable: The file is cut short: its data section does not end.',
  ],
  [
    'cut within a text',
    /#55=[\s\S]*/,
    "#55=IFCRELVOIDSELEMENT('00000",
    'REFUSED input-unreadable: The file is cut short: its data section does not end.',
  ],
  [
    'two data sections',
    '#54=',
    'ENDSEC;\nDATA;\n#54=',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'a last record without its bracket',
    'ENDSEC;\nEND-ISO',
    "#99=IFCRELVOIDSELEMENT\n'00',$,$,$,#50,#60);\nENDSEC;\nEND-ISO",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'a last record without its sign',
    'ENDSEC;\nEND-ISO',
    '#99 IFCWALL($);\nENDSEC;\nEND-ISO',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'junk before the first record',
    'DATA;\n#1=',
    'DATA;\njunk junk;\n#1=',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'the first number again at the end',
    'ENDSEC;\nEND-ISO',
    '#1=IFCWALL($);\nENDSEC;\nEND-ISO',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'junk between records',
    '#54=',
    'junk junk;\n#54=',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'zero bytes between records',
    '#54=',
    '\0\0\0\0\n#54=',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'line ends of old kind',
    /\n/g,
    '\r',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'all on one line',
    /\n/g,
    '',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  // Records that hold what no record may.
  [
    'a reference to a negative number (hung the geometry library)',
    '#38,#33',
    '#-38,#33',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'a pair of full stops (hung the geometry library)',
    '#38,#33',
    '..,#33',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'an equals sign (hung the geometry library)',
    '#38,#33',
    '=,#33',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'a reference with an exponent (hung the geometry library)',
    '#38,#33',
    '#1E12,#33',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'a curly bracket',
    '#38,#33',
    '{,#33',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'a number of two signs',
    '#38,#33',
    '--5,#33',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'a number of two points',
    '#38,#33',
    '1.2.3,#33',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'a number that names its fault',
    '#38,#33',
    '1.#IND,#33',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'a word of no type',
    '#38,#33',
    'wall,#33',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'two tokens side by side',
    '#38,#33',
    '#38#33,#33',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, element-without-geometry, opening-without-host',
  ],
  [
    'a hash alone',
    '#38,#33',
    '#,#33',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'brackets that do not close',
    '#38,#33,$,.STANDARD.)',
    '((((#38,#33,$,.STANDARD.)',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'brackets that close twice',
    '.STANDARD.)',
    '.STANDARD.))',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, element-without-geometry, opening-without-host',
  ],
  [
    'a text that does not end',
    "'0000000000000000000006'",
    "'0000000000000000000006",
    'REFUSED input-unreadable: The file is cut short: its data section does not end.',
  ],
  [
    'no attributes',
    WALL,
    '#39=IFCWALL();',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, malformed-global-id, opening-without-host, placement-missing',
  ],
  [
    'too few attributes',
    WALL,
    "#39=IFCWALL('0000000000000000000006',#5,$);",
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; dangling-reference, opening-without-host, placement-missing',
  ],
  [
    'too many attributes',
    '.STANDARD.)',
    '.STANDARD.,$,$,$,$)',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'no class name',
    '#39=IFCWALL(',
    '#39=(',
    '0 hosts, 1 services, 1 openings (clear excluded), 0 found; no query',
  ],
  [
    'a class nobody knows',
    '#39=IFCWALL(',
    '#39=IFCWALLX(',
    '0 hosts, 1 services, 1 openings (clear excluded), 0 found; no query',
  ],
  [
    'a class in small letters',
    '#39=IFCWALL(',
    '#39=ifcwall(',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; element-without-geometry, opening-without-host',
  ],
  [
    'the same number twice',
    HOLE,
    `${HOLE}\n${HOLE}`,
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'a record number beyond 2^53',
    '#71=',
    '#99999999999999999999=',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'a number where a text belongs',
    "'0000000000000000000006'",
    '5',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; malformed-global-id',
  ],
  [
    'a list where a text belongs',
    "'0000000000000000000006'",
    "('a')",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; malformed-global-id',
  ],
  // Identity.
  [
    'no GlobalId',
    "'0000000000000000000009'",
    '$',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; malformed-global-id',
  ],
  [
    'a GlobalId too short',
    "'0000000000000000000009'",
    "'09'",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; malformed-global-id',
  ],
  [
    'a GlobalId of wrong letters',
    "'0000000000000000000009'",
    "'000000000000000000000!'",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; malformed-global-id',
  ],
  [
    'one GlobalId for two',
    '0000000000000000000009',
    '0000000000000000000006',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; duplicate-global-id',
  ],
  [
    'a GlobalId that is a name of the language',
    "'0000000000000000000009'",
    "'__proto__'",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; malformed-global-id',
  ],
  // Values left out between commas; web-ifc never ends on some. ISO 10303-21, clause 10.
  [
    'a shape with an empty attribute',
    'IFCPRODUCTDEFINITIONSHAPE($,$,(#63))',
    'IFCPRODUCTDEFINITIONSHAPE($,,,(#63))',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, element-without-geometry, opening-without-service',
  ],
  [
    'a list that begins with a comma',
    'IFCCARTESIANPOINT((1000.,-500.,1500.))',
    'IFCCARTESIANPOINT((,1000.,-500.,1500.))',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'a list that ends with a comma',
    'IFCCARTESIANPOINT((1000.,-500.,1500.))',
    'IFCCARTESIANPOINT((1000.,-500.,1500.,))',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  // Attributes left out at the end; web-ifc never ends on some.
  [
    'a representation without its type',
    "#63=IFCSHAPEREPRESENTATION(#11,'Body','SweptSolid',(#62));",
    "#63=IFCSHAPEREPRESENTATION(#11,'Body',(#62));",
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, element-without-geometry, opening-without-service',
  ],
  [
    'an extrusion without its depth',
    '#62=IFCEXTRUDEDAREASOLID(#60,#57,#61,1000.);',
    '#62=IFCEXTRUDEDAREASOLID(#60,#57,#61);',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, element-without-geometry, opening-without-service',
  ],
  [
    'a wall without its predefined type, as in an older schema',
    '#38,#33,$,.STANDARD.);',
    '#38,#33,$);',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  // A list, a reference or a value where another is meant.
  [
    'a value of a type where a list is meant',
    "#63=IFCSHAPEREPRESENTATION(#11,'Body','SweptSolid',(#62));",
    "#63=IFCSHAPEREPRESENTATION(#11,'Body','SweptSolid',__proto__(#62));",
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, element-without-geometry, opening-without-service',
  ],
  [
    'a list where a reference is meant',
    '#62=IFCEXTRUDEDAREASOLID(#60,#57,#61,1000.);',
    '#62=IFCEXTRUDEDAREASOLID((#60),#57,#61,1000.);',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; element-without-geometry, opening-without-service',
  ],
  [
    'a reference where a list is meant',
    'IFCCARTESIANPOINT((1000.,-500.,1500.))',
    'IFCCARTESIANPOINT(#61)',
    '1 hosts, 1 services, 1 openings (endsInside inPenetration), 1 found; dangling-reference, opening-without-service, service-ends-inside',
  ],
  // Units.
  [
    'no units',
    '(#11),#8);',
    '(#11),$);',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; units-missing',
  ],
  [
    'units that are no units',
    '(#11),#8);',
    '(#11),#9);',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; units-missing',
  ],
  [
    'an area unit whose factor is not there',
    '#8=IFCUNITASSIGNMENT((#6,#7));',
    "#8=IFCUNITASSIGNMENT((#6,#900,#7));\n#900=IFCCONVERSIONBASEDUNIT(#901,.AREAUNIT.,'square inch',#902);\n#901=IFCDIMENSIONALEXPONENTS(2,0,0,0,0,0,0);",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'an area unit whose factor is broken',
    '#8=IFCUNITASSIGNMENT((#6,#7));',
    "#8=IFCUNITASSIGNMENT((#900,#6,#7));\n#900=IFCCONVERSIONBASEDUNIT(#901,.AREAUNIT.,'square inch',#902);\n#901=IFCDIMENSIONALEXPONENTS(2,0,0,0,0,0,0);\n#902=IFCMEASUREWITHUNIT(IFCAREAMEAS\\X2\\000006452),#6);",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'an angle unit whose base is not there',
    '#8=IFCUNITASSIGNMENT((#6,#7));',
    "#8=IFCUNITASSIGNMENT((#6,#900));\n#900=IFCCONVERSIONBASEDUNIT(#901,.PLANEANGLEUNIT.,'degree',#902);\n#901=IFCDIMENSIONALEXPONENTS(0,0,0,0,0,0,0);\n#902=IFCMEASUREWITHUNIT(IFCPLANEANGLEMEASURE(0.0174532925),#903);",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'a unit that is its own base',
    '#8=IFCUNITASSIGNMENT((#6,#7));',
    "#8=IFCUNITASSIGNMENT((#6,#7,#900));\n#900=IFCCONVERSIONBASEDUNIT(#901,.VOLUMEUNIT.,'cubic inch',#902);\n#901=IFCDIMENSIONALEXPONENTS(3,0,0,0,0,0,0);\n#902=IFCMEASUREWITHUNIT(IFCVOLUMEMEASURE(1.6E-05),#900);",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'a derived unit of elements that are not there',
    '#8=IFCUNITASSIGNMENT((#6,#7));',
    '#8=IFCUNITASSIGNMENT((#6,#7,#900));\n#900=IFCDERIVEDUNIT((#901,#902),.MASSDENSITYUNIT.,$);',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'a list of units with one that is not there',
    '#8=IFCUNITASSIGNMENT((#6,#7));',
    '#8=IFCUNITASSIGNMENT((#6,#999,#7));',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference',
  ],
  [
    'a length unit nobody knows',
    '.MILLI.,.METRE.',
    '.MILLI.,.PARSEC.',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; units-missing',
  ],
  [
    'a prefix nobody knows',
    '.MILLI.,.METRE.',
    '.HYPER.,.METRE.',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; units-missing',
  ],
  [
    'no project',
    /#12=.*\n/,
    '',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference, units-missing',
  ],
  // Placements and shapes.
  [
    'a pipe without a place',
    PIPE,
    PIPE.replace('#69', '$'),
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; opening-without-service, placement-missing',
  ],
  [
    'a place that is no place',
    PIPE,
    PIPE.replace('#69', '#5'),
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; opening-without-service, placement-missing',
  ],
  [
    'a place to nothing',
    PIPE,
    PIPE.replace('#69', '#999'),
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; opening-without-service, placement-missing',
  ],
  [
    'a place within itself',
    '#69=IFCLOCALPLACEMENT(#21,',
    '#69=IFCLOCALPLACEMENT(#69,',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; opening-without-service, placement-missing',
  ],
  [
    'places within each other',
    '#17=IFCLOCALPLACEMENT($,',
    '#17=IFCLOCALPLACEMENT(#21,',
    '1 hosts, 1 services, 1 openings (noGeometry noHost), 0 found; 3 placement-missing',
  ],
  [
    'an axis of no length',
    '#65=IFCDIRECTION((0.,1.,0.))',
    '#65=IFCDIRECTION((0.,0.,0.))',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; opening-without-service, placement-missing',
  ],
  [
    'axis and direction along each other',
    '#66=IFCDIRECTION((-1.,0.,0.))',
    '#66=IFCDIRECTION((0.,1.,0.))',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'an axis with a word',
    '#65=IFCDIRECTION((0.,1.,0.))',
    "#65=IFCDIRECTION((0.,'a',0.))",
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; opening-without-service, placement-missing',
  ],
  [
    'an axis of four numbers',
    '#65=IFCDIRECTION((0.,1.,0.))',
    '#65=IFCDIRECTION((0.,1.,0.,1.))',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'a point of one number',
    '#67=IFCCARTESIANPOINT((1000.,-500.,1500.))',
    '#67=IFCCARTESIANPOINT((1000.))',
    '1 hosts, 1 services, 1 openings (endsInside inPenetration), 1 found; opening-without-service, service-ends-inside',
  ],
  [
    'a point of no numbers',
    '#67=IFCCARTESIANPOINT((1000.,-500.,1500.))',
    '#67=IFCCARTESIANPOINT(())',
    '1 hosts, 1 services, 1 openings (endsInside inPenetration), 1 found; dangling-reference, opening-without-service, service-ends-inside',
  ],
  [
    'a point beyond any building',
    '(1000.,-500.,1500.)',
    '(1.E300,-500.,1500.)',
    '1 hosts, 1 services, 1 openings (clear inPenetration), 1 found; dangling-reference, opening-without-service',
  ],
  [
    'a point that is no number',
    '(1000.,-500.,1500.)',
    '(NAN,-500.,1500.)',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, opening-without-service, placement-missing',
  ],
  [
    'a point a thousand kilometres off',
    '(1000.,-500.,1500.)',
    '(1.E9,-500.,1500.)',
    '1 hosts, 1 services, 1 openings (clear inPenetration), 1 found; opening-without-service',
  ],
  [
    'a pipe without a shape',
    PIPE,
    PIPE.replace('#64', '$'),
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; element-without-geometry, opening-without-service',
  ],
  [
    'a shape to nothing',
    PIPE,
    PIPE.replace('#64', '#999'),
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; element-without-geometry, opening-without-service',
  ],
  [
    'a shape that is the pipe itself',
    PIPE,
    PIPE.replace('#64', '#70'),
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; element-without-geometry, opening-without-service',
  ],
  [
    'a shape without bodies',
    "'SweptSolid',(#62)",
    "'SweptSolid',()",
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; element-without-geometry, opening-without-service',
  ],
  [
    'a body of no depth',
    ',#61,1000.)',
    ',#61,0.)',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; element-without-geometry, opening-without-service',
  ],
  [
    'a body of negative depth',
    ',#61,1000.)',
    ',#61,-1000.)',
    '1 hosts, 1 services, 1 openings (clear inPenetration), 1 found; opening-without-service',
  ],
  [
    'a radius of nought',
    '#59,55.)',
    '#59,0.)',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; element-without-geometry, opening-without-service',
  ],
  [
    'a negative radius',
    '#59,55.)',
    '#59,-55.)',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'a radius with a large exponent',
    '#59,55.)',
    '#59,55.E13)',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference, opening-too-small',
  ],
  [
    'a radius that is a word',
    '#59,55.)',
    "#59,'55')",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'no profile',
    '(#60,#57',
    '($,#57',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; element-without-geometry, opening-without-service',
  ],
  // Shapes within shapes; a geometry engine makes each anew, and thirty doublings never end.
  [
    'a difference of itself',
    '#62=IFCEXTRUDEDAREASOLID(#60,#57,#61,1000.);',
    '#62=IFCBOOLEANRESULT(.DIFFERENCE.,#62,#62);',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, element-without-geometry, opening-without-service',
  ],
  [
    'two unions of each other',
    '#62=IFCEXTRUDEDAREASOLID(#60,#57,#61,1000.);',
    '#62=IFCBOOLEANRESULT(.DIFFERENCE.,#900,#900);\n#900=IFCBOOLEANRESULT(.UNION.,#62,#62);',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, element-without-geometry, opening-without-service',
  ],
  [
    'unions thirty deep, each of the next one twice',
    '#62=IFCEXTRUDEDAREASOLID(#60,#57,#61,1000.);',
    `#62=IFCBOOLEANRESULT(.UNION.,#900,#900);\n${doubled((at) => `IFCBOOLEANRESULT(.UNION.,#${at},#${at})`)}\n#930=IFCEXTRUDEDAREASOLID(#60,#57,#61,1000.);`,
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, element-without-geometry, opening-without-service',
  ],
  [
    'a mapped body of itself',
    '#62=IFCEXTRUDEDAREASOLID(#60,#57,#61,1000.);',
    '#62=IFCMAPPEDITEM(#900,#901);\n#900=IFCREPRESENTATIONMAP(#57,#63);\n#901=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#56,1.,$);',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, element-without-geometry, opening-without-service',
  ],
  [
    'profiles thirty deep, each of the next one twice',
    '#62=IFCEXTRUDEDAREASOLID(#60,#57,#61,1000.);',
    `#62=IFCEXTRUDEDAREASOLID(#900,#57,#61,1000.);\n${doubled((at) => `IFCCOMPOSITEPROFILEDEF(.AREA.,$,(#${at},#${at}),$)`)}\n#930=IFCCIRCLEPROFILEDEF(.AREA.,$,#59,55.);`,
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, element-without-geometry, opening-without-service',
  ],
  [
    'a curve of itself',
    '#62=IFCEXTRUDEDAREASOLID(#60,#57,#61,1000.);',
    '#62=IFCSWEPTDISKSOLID(#900,50.,$,$,$);\n#900=IFCCOMPOSITECURVE((#901),.F.);\n#901=IFCCOMPOSITECURVESEGMENT(.CONTINUOUS.,.T.,#900);',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, element-without-geometry, opening-without-service',
  ],
  [
    'an axis of itself',
    "#63=IFCSHAPEREPRESENTATION(#11,'Body','SweptSolid',(#62));",
    "#63=IFCSHAPEREPRESENTATION(#11,'Axis','MappedRepresentation',(#900));\n#900=IFCMAPPEDITEM(#901,#902);\n#901=IFCREPRESENTATIONMAP(#57,#63);\n#902=IFCCARTESIANTRANSFORMATIONOPERATOR3D($,$,#56,1.,$);",
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; dangling-reference, element-without-geometry, opening-without-service',
  ],
  [
    'a pipe that is a surface',
    '#62=IFCEXTRUDEDAREASOLID(#60,#57,#61,1000.);',
    '#62=IFCTRIANGULATEDFACESET(#900,$,$,((1,2,3),(1,3,4)),$);\n#900=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(4000.,0.,0.),(4000.,0.,3000.),(0.,0.,3000.)));',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; element-without-geometry, opening-without-service',
  ],
  [
    'a wall that is a surface',
    '#31=IFCEXTRUDEDAREASOLID(#29,#26,#30,3000.);',
    '#31=IFCTRIANGULATEDFACESET(#900,$,$,((1,2,3),(1,3,4)),$);\n#900=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(4000.,0.,0.),(4000.,0.,3000.),(0.,0.,3000.)));',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; element-without-geometry, opening-without-host',
  ],
  [
    'a pipe with a corner that is not there',
    '#62=IFCEXTRUDEDAREASOLID(#60,#57,#61,1000.);',
    '#62=IFCPOLYGONALFACESET(#900,$,(#901),$);\n#900=IFCCARTESIANPOINTLIST3D(((0.,0.,0.),(1.,0.,0.),(0.,1.,0.)));\n#901=IFCINDEXEDPOLYGONALFACE((1,2,2147483647));',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; element-without-geometry, opening-without-service',
  ],
  [
    'a body that is its own profile',
    '(#60,#57',
    '(#62,#57',
    '1 hosts, 1 services, 1 openings (noGeometry inPenetration), 1 found; element-without-geometry, opening-without-service',
  ],
  [
    'a wall without a shape',
    WALL,
    WALL.replace('#33', '$'),
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; element-without-geometry, opening-without-host',
  ],
  [
    'a wall of no thickness',
    '4000.,200.)',
    '4000.,0.)',
    '1 hosts, 1 services, 1 openings (clear noHost), 0 found; element-without-geometry, opening-without-host',
  ],
  [
    'an opening without a shape',
    HOLE,
    HOLE.replace('#48', '$'),
    '1 hosts, 1 services, 1 openings (through noHost), 1 found; element-without-geometry, service-without-opening',
  ],
  [
    'an opening in nothing',
    ',#39,#54)',
    ',#999,#54)',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; dangling-reference, opening-without-host',
  ],
  [
    'an opening in a pipe',
    ',#39,#54)',
    ',#70,#54)',
    '1 hosts, 1 services, 1 openings (through excluded), 1 found; service-without-opening',
  ],
  [
    'an opening in itself',
    ',#39,#54)',
    ',#54,#54)',
    '1 hosts, 1 services, 1 openings (through excluded), 1 found; service-without-opening',
  ],
  [
    'no relation between wall and opening',
    /#55=.*\n/,
    '',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; opening-without-host',
  ],
  [
    'a storey that holds itself',
    '(#39,#70),#22',
    '(#39,#70,#22),#22',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'a building within its own site within it',
    '#18,(#22)',
    '#22,(#18,#22)',
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  // Texts.
  [
    'a name with markup',
    "#70=IFCPIPESEGMENT('0000000000000000000009',#5,$",
    "#70=IFCPIPESEGMENT('0000000000000000000009',#5,'<script>=1+1'",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'a name with a broken escape',
    "'0000000000000000000009',#5,$",
    "'0000000000000000000009',#5,'\\X2\\00E'",
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
  [
    'a name of 100,000 letters',
    "'0000000000000000000009',#5,$",
    `'0000000000000000000009',#5,'${'A'.repeat(100_000)}'`,
    '1 hosts, 1 services, 1 openings (through inPenetration), 1 found; no query',
  ],
];

/** Whole files. */
export const IFC_FILES: readonly (readonly [name: string, text: string, outcome: string])[] = [
  ['an empty file', '', 'REFUSED input-unreadable: The file is empty.'],
  ['blanks only', '  \n\n\t ', 'REFUSED input-unreadable: The file is empty.'],
  ['a byte order mark only', '\ufeff', 'REFUSED input-unreadable: The file is empty.'],
  [
    'a page of the web',
    '<!DOCTYPE html><html></html>',
    'REFUSED input-unreadable: The file is no STEP file: it does not begin with ISO-10303-21.',
  ],
  [
    'a zip archive by its first bytes',
    'PK\u0003\u0004',
    'REFUSED input-unreadable: The file is no STEP file: it does not begin with ISO-10303-21.',
  ],
  [
    'the begin mark only',
    'ISO-10303-21;',
    'REFUSED input-unreadable: The file is cut short: its data section does not end.',
  ],
  [
    'header only',
    "ISO-10303-21;HEADER;FILE_SCHEMA(('IFC4'));ENDSEC;END-ISO-10303-21;",
    'REFUSED input-unreadable: The file is cut short: its data section does not end.',
  ],
  [
    'no records',
    "ISO-10303-21;HEADER;FILE_SCHEMA(('IFC4'));ENDSEC;DATA;ENDSEC;END-ISO-10303-21;",
    '0 hosts, 0 services, 0 openings, 0 found; units-missing',
  ],
  [
    'a thousand open brackets',
    `ISO-10303-21;HEADER;FILE_SCHEMA(('IFC4'));ENDSEC;DATA;#1=IFCWALL(${'('.repeat(1000)});ENDSEC;END-ISO-10303-21;`,
    '1 hosts, 0 services, 0 openings, 0 found; dangling-reference, malformed-global-id, placement-missing, units-missing',
  ],
];
