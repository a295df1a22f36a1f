import { SealbookError } from '../../basics/errors.ts';
import { type ReadLimits, USUAL_LIMITS } from '../../basics/limits.ts';
import { compareText } from '../../basics/order.ts';
import { childOf, childrenOf, childText, readXml, type XmlElement } from '../shared/read-xml.ts';
import { readZip } from '../shared/zip-archive.ts';
import type {
  BcfCamera,
  BcfComment,
  BcfFile,
  BcfPart,
  BcfPoint,
  BcfProblem,
  BcfTopic,
  BcfViewpoint,
  BcfWords,
} from './bcf-file.ts';

const MARKUP = 'markup.bcf';

/**
 * The content of a BCF archive. What is wrong with a part is listed among the problems and the rest
 * is read; viewpoints are found by the file the markup names, since published archives differ in
 * their guids.
 *
 * @throws SealbookError `input-unreadable` if it is no BCF, `input-too-large` beyond the limits.
 */
export function parseBcf(bytes: Uint8Array, limits: ReadLimits = USUAL_LIMITS): BcfFile {
  const entries = readZip(bytes, limits);
  const reader = new BcfReader(entries, limits);
  const markups = [...entries.keys()].filter((name) => name.endsWith(`/${MARKUP}`));
  const version = reader.version();
  if (version === null && markups.length === 0) {
    throw new SealbookError('input-unreadable', 'The archive is no BCF: it holds no topics.', {
      todo: 'Give a .bcf or .bcfzip file of version 2.1 or 3.0.',
    });
  }
  const topics = markups.sort(compareText).flatMap((entry) => reader.topic(entry) ?? []);
  return {
    version: version ?? 'unknown',
    project: reader.project(),
    words: reader.words(),
    topics,
    problems: reader.problems,
  };
}

class BcfReader {
  readonly problems: BcfProblem[] = [];
  readonly #entries: ReadonlyMap<string, Uint8Array>;
  readonly #limits: ReadLimits;

  constructor(entries: ReadonlyMap<string, Uint8Array>, limits: ReadLimits) {
    this.#entries = entries;
    this.#limits = limits;
  }

  version(): string | null {
    return this.#xml('bcf.version')?.attributes.get('VersionId') ?? null;
  }

  project(): BcfFile['project'] {
    const project = childOf(this.#xml('project.bcfp'), 'Project');
    const id = project?.attributes.get('ProjectId');
    return project === null || id === undefined ? null : { id, name: childText(project, 'Name') };
  }

  words(): BcfWords {
    const root = this.#xml('extensions.xml');
    const listed = (wrapper: string, item: string) =>
      childrenOf(childOf(root, wrapper), item)
        .map((element) => element.text.trim())
        .filter((word) => word !== '');
    return {
      types: listed('TopicTypes', 'TopicType'),
      statuses: listed('TopicStatuses', 'TopicStatus'),
      priorities: listed('Priorities', 'Priority'),
      labels: listed('TopicLabels', 'TopicLabel'),
      users: listed('Users', 'User'),
    };
  }

  topic(entry: string): BcfTopic | null {
    const markup = this.#xml(entry);
    const topic = childOf(markup, 'Topic');
    if (markup === null) return null;
    const folder = entry.slice(0, -MARKUP.length - 1);
    const guid = topic?.attributes.get('Guid')?.toLowerCase();
    if (topic === null || guid === undefined) {
      this.#problem(entry, 'holds no topic with a Guid');
      return null;
    }
    if (guid !== folder.toLowerCase()) {
      this.#problem(entry, `lies in the folder ${folder}, its topic is ${guid}`);
    }
    const attribute = (name: string) => topic.attributes.get(name) ?? null;
    return {
      guid,
      folder,
      type: attribute('TopicType'),
      status: attribute('TopicStatus'),
      title: childText(topic, 'Title') ?? '',
      priority: childText(topic, 'Priority'),
      labels: texts(topic, 'Labels', 'Label'),
      links: [
        ...texts(topic, 'ReferenceLinks', 'ReferenceLink'),
        ...childrenOf(topic, 'ReferenceLink').map((link) => link.text.trim()),
      ],
      createdOn: childText(topic, 'CreationDate'),
      createdBy: childText(topic, 'CreationAuthor'),
      modifiedOn: childText(topic, 'ModifiedDate'),
      modifiedBy: childText(topic, 'ModifiedAuthor'),
      assignedTo: childText(topic, 'AssignedTo'),
      description: childText(topic, 'Description'),
      files: headerFiles(markup),
      comments: commentsOf(markup, topic),
      viewpoints: this.#viewpoints(markup, topic, folder),
    };
  }

  #viewpoints(markup: XmlElement, topic: XmlElement, folder: string): BcfViewpoint[] {
    // 2.1: Viewpoints elements beside the topic; 3.0: ViewPoint elements inside it.
    const listed = [
      ...childrenOf(markup, 'Viewpoints'),
      ...childrenOf(childOf(topic, 'Viewpoints'), 'ViewPoint'),
    ];
    return listed.flatMap((element) => {
      const guid = element.attributes.get('Guid')?.toLowerCase();
      if (guid === undefined) return [];
      const name = childText(element, 'Viewpoint');
      const view = this.#part(folder, name);
      const picture = this.#part(folder, childText(element, 'Snapshot'));
      const index = Number(childText(element, 'Index') ?? Number.NaN);
      return {
        guid,
        index: Number.isInteger(index) ? index : null,
        ...viewOf(view === null ? null : this.#xml(`${folder}/${view.name}`)),
        snapshot: picture?.bytes ?? null,
        source: { view, picture },
      };
    });
  }

  #part(folder: string, name: string | null): BcfPart | null {
    if (name === null) return null;
    const entry = `${folder}/${name}`;
    const bytes = this.#entries.get(entry);
    if (bytes !== undefined) return { name, bytes };
    this.#problem(entry, 'is named in the markup and is not in the archive');
    return null;
  }

  #xml(entry: string): XmlElement | null {
    const bytes = this.#entries.get(entry);
    if (bytes === undefined) return null;
    try {
      return readXml(bytes, this.#limits);
    } catch (error) {
      if (!(error instanceof SealbookError)) throw error;
      this.#problem(entry, error.message);
      return null;
    }
  }

  #problem(entry: string, text: string): void {
    this.problems.push({ entry, text });
  }
}

/** 3.0 wraps repeated elements, 2.1 repeats them directly under the wrapper's name. */
function texts(topic: XmlElement, wrapper: string, item: string): string[] {
  return childrenOf(topic, wrapper)
    .flatMap((element) => {
      const items = childrenOf(element, item);
      return items.length > 0 ? items.map((each) => each.text) : [element.text];
    })
    .map((text) => text.trim())
    .filter((text) => text !== '');
}

function headerFiles(markup: XmlElement): string[] {
  const header = childOf(markup, 'Header');
  const files = [...childrenOf(header, 'File'), ...childrenOf(childOf(header, 'Files'), 'File')];
  return files.flatMap((file) => childText(file, 'Filename') ?? []);
}

function commentsOf(markup: XmlElement, topic: XmlElement): BcfComment[] {
  const listed = [
    ...childrenOf(markup, 'Comment'),
    ...childrenOf(childOf(topic, 'Comments'), 'Comment'),
  ];
  return listed.map((comment) => ({
    guid: comment.attributes.get('Guid')?.toLowerCase() ?? '',
    date: childText(comment, 'Date'),
    author: childText(comment, 'Author'),
    text: childText(comment, 'Comment') ?? '',
    viewpointGuid: childOf(comment, 'Viewpoint')?.attributes.get('Guid')?.toLowerCase() ?? null,
    modifiedOn: childText(comment, 'ModifiedDate'),
    modifiedBy: childText(comment, 'ModifiedAuthor'),
  }));
}

function viewOf(
  info: XmlElement | null,
): Omit<BcfViewpoint, 'guid' | 'index' | 'snapshot' | 'source'> {
  const components = childOf(info, 'Components');
  const visibility = childOf(components, 'Visibility');
  const hints = childOf(visibility, 'ViewSetupHints') ?? childOf(components, 'ViewSetupHints');
  return {
    camera: cameraOf(info),
    selected: componentIds(childOf(components, 'Selection')),
    defaultVisibility: isTrue(visibility?.attributes.get('DefaultVisibility')),
    exceptions: componentIds(childOf(visibility, 'Exceptions')),
    openingsVisible: isTrue(hints?.attributes.get('OpeningsVisible')),
  };
}

function componentIds(list: XmlElement | null): string[] {
  return childrenOf(list, 'Component').flatMap((each) => each.attributes.get('IfcGuid') ?? []);
}

function cameraOf(info: XmlElement | null): BcfCamera | null {
  const perspective = childOf(info, 'PerspectiveCamera');
  const camera = perspective ?? childOf(info, 'OrthogonalCamera');
  const at = pointOf(camera, 'CameraViewPoint');
  const direction = pointOf(camera, 'CameraDirection');
  const up = pointOf(camera, 'CameraUpVector');
  if (at === null || direction === null || up === null) return null;
  return {
    at,
    direction,
    up,
    fieldOfViewDeg: numberOf(perspective, 'FieldOfView'),
    viewHeightM: numberOf(camera, 'ViewToWorldScale'),
    aspectRatio: numberOf(camera, 'AspectRatio'),
  };
}

function pointOf(camera: XmlElement | null, name: string): BcfPoint | null {
  const point = childOf(camera, name);
  const [x, y, z] = ['X', 'Y', 'Z'].map((axis) => numberOf(point, axis));
  return x == null || y == null || z == null ? null : [x, y, z];
}

function numberOf(element: XmlElement | null, name: string): number | null {
  const text = childText(element, name);
  const value = text === null ? Number.NaN : Number(text);
  return Number.isFinite(value) ? value : null;
}

const isTrue = (text: string | undefined): boolean => text === 'true' || text === '1';
