import { create } from 'xmlbuilder2';
import { sortedBy } from '../../basics/order.ts';
import { writeZip } from '../shared/zip-archive.ts';
import type { BcfCamera, BcfPart, BcfPoint, BcfTopic, BcfViewpoint, BcfWords } from './bcf-file.ts';

/** What an archive of version 3.0 is made of. */
export interface BcfContent {
  readonly project: { readonly id: string; readonly name: string };
  readonly topics: readonly BcfTopic[];
  readonly words: BcfWords;
  /** Entries of topics of others, as they were. */
  readonly kept: readonly { readonly name: string; readonly bytes: Uint8Array }[];
}

/** Elements as xmlbuilder2 takes them: attributes under `@…`, repeated elements as lists. */
type Xml = { readonly [name: string]: XmlValue };
type XmlValue = string | number | boolean | Xml | readonly (string | Xml)[] | undefined;

/**
 * A BCF 3.0 archive. The same content gives the same bytes; folders come as entries of their own, as
 * the standard asks.
 *
 * @param date ISO date for the entries' times.
 */
export function printBcf(content: BcfContent, date: string | null): Uint8Array {
  const entries = [
    { name: 'bcf.version', bytes: document({ Version: { '@VersionId': '3.0' } }) },
    { name: 'project.bcfp', bytes: document(projectXml(content.project)) },
    { name: 'extensions.xml', bytes: document(extensionsXml(content.words)) },
    ...sortedBy(content.topics, ({ guid }) => guid).flatMap(topicEntries),
    ...sortedBy(content.kept, ({ name }) => name),
  ];
  return writeZip(entries, date);
}

function document(root: Xml): Uint8Array {
  const xml = create({ version: '1.0', encoding: 'UTF-8' }, root).end({ prettyPrint: true });
  return new TextEncoder().encode(`${xml}\n`);
}

function projectXml({ id, name }: BcfContent['project']): Xml {
  return { ProjectInfo: { Project: { '@ProjectId': clean(id), Name: text(name) } } };
}

/** @source BCF-XML 3.0, extensions.xsd: the elements stand in this order. */
function extensionsXml(words: BcfWords): Xml {
  return {
    Extensions: {
      TopicTypes: { TopicType: words.types.map(clean) },
      TopicStatuses: { TopicStatus: words.statuses.map(clean) },
      Priorities: { Priority: words.priorities.map(clean) },
      TopicLabels: { TopicLabel: words.labels.map(clean) },
      Users: { User: words.users.map(clean) },
      SnippetTypes: {},
      Stages: {},
    },
  };
}

function topicEntries(topic: BcfTopic) {
  const folder = topic.guid;
  const entries = [
    { name: `${folder}/`, bytes: new Uint8Array(0) },
    { name: `${folder}/markup.bcf`, bytes: document(markupXml(topic)) },
  ];
  const parts = topic.viewpoints.flatMap(viewpointParts);
  return [...entries, ...parts.map(({ name, bytes }) => ({ name: `${folder}/${name}`, bytes }))];
}

/** Files of a viewpoint: as they were read, or made new. */
function viewpointParts(viewpoint: BcfViewpoint): BcfPart[] {
  const { camera, snapshot, source } = viewpoint;
  if (source !== undefined) return [source.view, source.picture].filter((part) => part !== null);
  const parts: BcfPart[] = [];
  if (camera !== null) {
    parts.push({ name: viewName(viewpoint), bytes: document(viewpointXml(viewpoint, camera)) });
  }
  if (snapshot !== null) parts.push({ name: pictureName(viewpoint), bytes: snapshot });
  return parts;
}

const viewName = ({ guid }: BcfViewpoint) => `viewpoint-${guid}.bcfv`;
const pictureName = ({ guid }: BcfViewpoint) => `snapshot-${guid}.png`;

/** @source BCF-XML 3.0, markup.xsd: the elements stand in this order. */
function markupXml(topic: BcfTopic): Xml {
  return {
    Markup: {
      Header: {
        Files: {
          File: topic.files.map((name) => ({ '@IsExternal': 'true', Filename: clean(name) })),
        },
      },
      Topic: {
        '@Guid': topic.guid,
        '@TopicType': clean(topic.type ?? 'Question'),
        '@TopicStatus': clean(topic.status ?? 'Open'),
        ReferenceLinks: { ReferenceLink: topic.links.map(clean) },
        Title: clean(topic.title),
        Priority: text(topic.priority),
        Labels: { Label: topic.labels.map(clean) },
        CreationDate: topic.createdOn ?? UNDATED,
        CreationAuthor: clean(topic.createdBy ?? 'not stated'),
        ModifiedDate: topic.modifiedOn ?? undefined,
        ModifiedAuthor: text(topic.modifiedBy),
        AssignedTo: text(topic.assignedTo),
        Description: text(topic.description),
        Comments: { Comment: topic.comments.map(commentXml) },
        Viewpoints: { ViewPoint: topic.viewpoints.map(viewpointLink) },
      },
    },
  };
}

/** The standard demands dates; where the settings give none, one that nobody takes for real. */
const UNDATED = '1970-01-01T00:00:00Z';

function commentXml(comment: BcfTopic['comments'][number]): Xml {
  return {
    '@Guid': comment.guid,
    Date: comment.date ?? UNDATED,
    Author: clean(comment.author ?? 'not stated'),
    Comment: text(comment.text),
    ...(comment.viewpointGuid === null ? {} : { Viewpoint: { '@Guid': comment.viewpointGuid } }),
    ModifiedDate: comment.modifiedOn ?? undefined,
    ModifiedAuthor: text(comment.modifiedBy),
  };
}

function viewpointLink(viewpoint: BcfViewpoint): Xml {
  const [view, picture] =
    viewpoint.source === undefined
      ? [
          viewpoint.camera === null ? undefined : viewName(viewpoint),
          viewpoint.snapshot === null ? undefined : pictureName(viewpoint),
        ]
      : [viewpoint.source.view?.name, viewpoint.source.picture?.name];
  return {
    '@Guid': viewpoint.guid,
    Viewpoint: view,
    Snapshot: picture,
    Index: viewpoint.index ?? undefined,
  };
}

/** @source BCF-XML 3.0, visinfo.xsd. */
function viewpointXml(viewpoint: BcfViewpoint, camera: BcfCamera): Xml {
  return {
    VisualizationInfo: {
      '@Guid': viewpoint.guid,
      Components: {
        Selection: { Component: viewpoint.selected.map(component) },
        Visibility: {
          '@DefaultVisibility': String(viewpoint.defaultVisibility),
          ViewSetupHints: {
            '@SpacesVisible': 'false',
            '@SpaceBoundariesVisible': 'false',
            '@OpeningsVisible': String(viewpoint.openingsVisible),
          },
          Exceptions: { Component: viewpoint.exceptions.map(component) },
        },
      },
      ...cameraXml(camera),
    },
  };
}

const component = (globalId: string): Xml => ({ '@IfcGuid': globalId });

function cameraXml(camera: BcfCamera): Xml {
  const placed = {
    CameraViewPoint: point(camera.at),
    CameraDirection: point(camera.direction),
    CameraUpVector: point(camera.up),
  };
  const aspect = { AspectRatio: camera.aspectRatio ?? 4 / 3 };
  return camera.fieldOfViewDeg === null
    ? {
        OrthogonalCamera: { ...placed, ViewToWorldScale: camera.viewHeightM ?? 1, ...aspect },
      }
    : { PerspectiveCamera: { ...placed, FieldOfView: camera.fieldOfViewDeg, ...aspect } };
}

const point = ([X, Y, Z]: BcfPoint): Xml => ({ X, Y, Z });

/** A text that may be left out. */
function text(value: string | null): string | undefined {
  return value === null || value.trim() === '' ? undefined : clean(value);
}

/** Characters that XML can't hold become signs that it can; never empty. */
function clean(value: string): string {
  const held = value
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is being replaced.
    .replace(/[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]|\p{Surrogate}/gu, '\ufffd')
    .trim();
  return held === '' ? '–' : held;
}
