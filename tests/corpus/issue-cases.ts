import { strToU8, zipSync } from 'fflate';

const GUID = '11111111-1111-4111-8111-111111111111';
const LINK = 'urn:sealbook:query:size-unknown%3Aa';

const markup = (topic: string, comments = ''): string =>
  `<Markup><Topic Guid="${GUID}" TopicStatus="Open"><ReferenceLink>${LINK}</ReferenceLink><Title>T</Title>${topic}</Topic>${comments}</Markup>`;
const comment = (text: string): string =>
  `<Comment Guid="x"><Date>2026-01-01T00:00:00Z</Date><Author>a</Author><Comment>${text}</Comment></Comment>`;

function archive(entries: Readonly<Record<string, string>>, version: string | null = '2.1') {
  const head = version === null ? {} : { 'bcf.version': `<Version VersionId="${version}"/>` };
  const all = Object.entries({ ...head, ...entries });
  return zipSync(Object.fromEntries(all.map(([name, text]) => [name, strToU8(text)])));
}
const topic = (text: string) => archive({ [`${GUID}/markup.bcf`]: text });

/** A sound archive with bytes changed by `change`. */
function harmed(change: (bytes: Uint8Array) => Uint8Array): Uint8Array {
  return change(topic(markup('', comment('12 mm'))));
}

type BytesCase = readonly [name: string, bytes: Uint8Array, outcome: string];

export const BCF_CASES: readonly BytesCase[] = [
  [
    'an answer',
    topic(markup('', comment('12 mm'))),
    '2.1: size-unknown:a answered 1, 0 others; no query',
  ],
  [
    'an empty file',
    new Uint8Array(),
    'REFUSED input-unreadable: The file is not a zip archive or is damaged: it has no directory.',
  ],
  [
    'no archive',
    strToU8('hello'),
    'REFUSED input-unreadable: The file is not a zip archive or is damaged: it has no directory.',
  ],
  [
    'an archive of nothing',
    zipSync({}),
    'REFUSED input-unreadable: The archive is no BCF: it holds no topics.',
  ],
  [
    'an archive of something else',
    zipSync({ 'a.txt': strToU8('x') }),
    'REFUSED input-unreadable: The archive is no BCF: it holds no topics.',
  ],
  ['a version only', archive({}), '2.1: no answers, 0 others; no query'],
  [
    'no version',
    archive({ [`${GUID}/markup.bcf`]: markup('') }, null),
    'unknown: size-unknown:a open 0, 0 others; no query',
  ],
  [
    'a version nobody knows',
    archive({ [`${GUID}/markup.bcf`]: markup('') }, '9.9'),
    '9.9: size-unknown:a open 0, 0 others; no query',
  ],
  [
    'a cut archive',
    harmed((bytes) => bytes.slice(0, -30)),
    'REFUSED input-unreadable: The file is not a zip archive or is damaged: it has no directory.',
  ],
  [
    'an archive with a byte changed',
    harmed((bytes) => bytes.map((byte, n) => (n === 45 ? byte ^ 1 : byte))),
    'REFUSED input-unreadable: The file is not a zip archive or is damaged: "bcf.version" is not what was packed.',
  ],
  [
    'an archive after other bytes',
    harmed((bytes) => Uint8Array.of(1, 2, 3, ...bytes)),
    'REFUSED input-unreadable: The file is not a zip archive or is damaged: its directory is cut short.',
  ],
  [
    'an archive before other bytes',
    harmed((bytes) => Uint8Array.of(...bytes, 1, 2, 3)),
    '2.1: size-unknown:a answered 1, 0 others; no query',
  ],
  ['an empty markup', topic(''), '2.1: no answers, 0 others; topic-unclear'],
  [
    'a markup cut short',
    topic('<Markup><Topic Guid="'),
    '2.1: no answers, 0 others; topic-unclear',
  ],
  ['a markup without a topic', topic('<Markup/>'), '2.1: no answers, 0 others; topic-unclear'],
  [
    'a topic without a Guid',
    topic('<Markup><Topic><Title>T</Title></Topic></Markup>'),
    '2.1: no answers, 0 others; topic-unclear',
  ],
  [
    'a topic in the folder of another',
    archive({ 'other/markup.bcf': markup('') }),
    '2.1: size-unknown:a open 0, 0 others; topic-unclear',
  ],
  [
    'a folder out of the archive',
    archive({ '../../x/markup.bcf': markup('') }),
    '2.1: size-unknown:a open 0, 0 others; topic-unclear',
  ],
  [
    'an entity of its own',
    topic(`<!DOCTYPE x [<!ENTITY a "b">]>${markup('', comment('&amp;'))}`),
    '2.1: no answers, 0 others; topic-unclear',
  ],
  [
    'an entity that is not there',
    topic(markup('', comment('&nothing;'))),
    '2.1: no answers, 0 others; topic-unclear',
  ],
  [
    'elements 200 deep',
    topic(`${'<a>'.repeat(200)}${'</a>'.repeat(200)}`),
    '2.1: no answers, 0 others; topic-unclear',
  ],
  [
    'UTF-16 without a mark',
    archive({ [`${GUID}/markup.bcf`]: [...markup('')].join('\0') }),
    '2.1: no answers, 0 others; topic-unclear',
  ],
  [
    'a comment without a text',
    topic(markup('', '<Comment Guid="x"/>')),
    '2.1: size-unknown:a open 0, 0 others; no query',
  ],
  [
    'a comment with markup',
    topic(markup('', comment('&lt;script&gt;=1+1'))),
    '2.1: size-unknown:a answered 1, 0 others; no query',
  ],
  [
    'a date that is none',
    topic(markup('', comment('x').replace('2026-01-01T00:00:00Z', 'soon'))),
    '2.1: size-unknown:a answered 1, 0 others; no query',
  ],
  [
    'a viewpoint that is not there',
    topic(markup('', '<Viewpoints Guid="v"><Viewpoint>v.bcfv</Viewpoint></Viewpoints>')),
    '2.1: size-unknown:a open 0, 0 others; topic-unclear',
  ],
  [
    'a viewpoint out of the archive',
    topic(
      markup('', '<Viewpoints Guid="v"><Viewpoint>../../../etc/passwd</Viewpoint></Viewpoints>'),
    ),
    '2.1: size-unknown:a open 0, 0 others; topic-unclear',
  ],
  [
    'a viewpoint that is no XML',
    archive({
      [`${GUID}/markup.bcf`]: markup(
        '',
        '<Viewpoints Guid="v"><Viewpoint>v.bcfv</Viewpoint></Viewpoints>',
      ),
      [`${GUID}/v.bcfv`]: 'x',
    }),
    '2.1: size-unknown:a open 0, 0 others; topic-unclear',
  ],
  [
    'a link of ours that is damaged',
    topic(markup('').replace('%3Aa', '%E0%A4')),
    '2.1: no answers, 1 others; no query',
  ],
  [
    'a link of others',
    topic(markup('').replace(LINK, 'http://127.0.0.1/')),
    '2.1: no answers, 1 others; no query',
  ],
  [
    'a topic named as a part of the language',
    archive({ '__proto__/markup.bcf': markup('') }),
    '2.1: size-unknown:a open 0, 0 others; topic-unclear',
  ],
];

const IDS_HEAD =
  '<ids xmlns="http://standards.buildingsmart.org/IDS" xmlns:xs="http://www.w3.org/2001/XMLSchema"><info><title>T</title></info><specifications>';
const value = (name: string, text: string) =>
  `<${name}><simpleValue>${text}</simpleValue></${name}>`;
const spec = (applicability: string, requirements: string, head = 'name="S" ifcVersion="IFC4"') =>
  `${IDS_HEAD}<specification ${head}><applicability minOccurs="0" maxOccurs="unbounded">${applicability}</applicability><requirements>${requirements}</requirements></specification></specifications></ids>`;
const walls = `<entity>${value('name', 'IFCWALL')}</entity>`;
const restricted = (facets: string) =>
  `<attribute>${value('name', 'Name')}<value><xs:restriction base="xs:string">${facets}</xs:restriction></value></attribute>`;

/** One wall named "Wall A". */
export const IDS_MODEL =
  "ISO-10303-21;HEADER;FILE_SCHEMA(('IFC4'));ENDSEC;DATA;#1=IFCWALL('1hqIFTRjfV6AWq_bMtnZwI',$,'Wall A',$,$,$,$,$,$);ENDSEC;END-ISO-10303-21;";

type WholeCase = readonly [name: string, text: string, outcome: string];

export const IDS_CASES: readonly WholeCase[] = [
  [
    'a name asked for',
    spec(walls, `<attribute>${value('name', 'Name')}</attribute>`),
    '1 specifications, pass; no query',
  ],
  [
    'an empty file',
    '',
    "REFUSED input-unreadable, line 1: The XML can't be read: 1:0: document must contain a root element..",
  ],
  [
    'no XML',
    'hello',
    "REFUSED input-unreadable, line 1: The XML can't be read: 1:5: text data outside of root node..",
  ],
  [
    'another root',
    '<xml/>',
    'REFUSED input-unreadable, line 1: The file is no IDS: its root is "xml".',
  ],
  ['no specifications', '<ids/>', '0 specifications, pass; no query'],
  [
    'cut short',
    spec(walls, '').slice(0, -20),
    "REFUSED input-unreadable, line 1: The XML can't be read: 1:362: unclosed tag: specifications.",
  ],
  [
    'a document type',
    `<!DOCTYPE ids>${spec(walls, '')}`,
    "REFUSED input-unreadable, line 1: The XML can't be read: document type declarations are not accepted.",
  ],
  [
    'elements 200 deep',
    `<ids>${'<a>'.repeat(200)}`,
    'REFUSED input-too-large: The XML nests deeper than 100 elements.',
  ],
  [
    'no applicability',
    `${IDS_HEAD}<specification name="S" ifcVersion="IFC4"/></specifications></ids>`,
    '1 specifications, invalid; requirement-invalid',
  ],
  ['an applicability of nothing', spec('', ''), '1 specifications, invalid; requirement-invalid'],
  [
    'a schema nobody knows',
    spec(walls, '', 'name="S" ifcVersion="IFC9"'),
    '1 specifications, invalid; requirement-invalid',
  ],
  ['no schema', spec(walls, '', 'name="S"'), '1 specifications, invalid; requirement-invalid'],
  [
    'a facet nobody knows',
    spec(walls, '<colour/>'),
    '1 specifications, invalid; requirement-invalid',
  ],
  [
    'a class nobody knows',
    spec(`<entity>${value('name', 'IFCWALLX')}</entity>`, ''),
    '1 specifications, invalid; requirement-invalid',
  ],
  [
    'an entity without a name',
    spec('<entity/>', ''),
    '1 specifications, invalid; requirement-invalid',
  ],
  [
    'a property without a set',
    spec(walls, `<property>${value('baseName', 'P')}</property>`),
    '1 specifications, invalid; requirement-invalid',
  ],
  [
    'an attribute nobody knows',
    spec(walls, `<attribute>${value('name', 'Colour')}</attribute>`),
    '1 specifications, invalid; requirement-invalid',
  ],
  [
    'a cardinality nobody knows',
    spec(walls, `<attribute cardinality="some">${value('name', 'Name')}</attribute>`),
    '1 specifications, invalid; requirement-invalid',
  ],
  [
    'a pattern that matches',
    spec(walls, restricted('<xs:pattern value="Wall [A-Z]"/>')),
    '1 specifications, pass; no query',
  ],
  [
    'a pattern that is none',
    spec(walls, restricted('<xs:pattern value="([a-"/>')),
    '1 specifications, invalid; requirement-invalid',
  ],
  [
    'a pattern that blows up elsewhere',
    spec(walls, restricted('<xs:pattern value="(((a+)+)+)+b"/>')),
    '1 specifications, fail; no query',
  ],
  [
    'a pattern of a million repeats',
    spec(walls, restricted('<xs:pattern value="(a{1,1000}){1,1000}"/>')),
    '1 specifications, invalid; requirement-invalid',
  ],
  [
    'a length that is a word',
    spec(walls, restricted('<xs:length value="long"/>')),
    '1 specifications, invalid; requirement-invalid',
  ],
  [
    'a length that is negative',
    spec(walls, restricted('<xs:length value="-1"/>')),
    '1 specifications, invalid; requirement-invalid',
  ],
  [
    'bounds the wrong way round',
    spec(walls, restricted('<xs:minInclusive value="9"/><xs:maxInclusive value="1"/>')),
    '1 specifications, invalid; requirement-invalid',
  ],
  ['a restriction of nothing', spec(walls, restricted('')), '1 specifications, pass; no query'],
];
