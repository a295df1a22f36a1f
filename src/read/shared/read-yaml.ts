import { type Document, isNode, LineCounter, parseDocument } from 'yaml';
import type { z } from 'zod';
import { SealbookError } from '../../basics/errors.ts';
import type { InputFile } from '../../model/input.ts';
import { allowedAt } from './schema-words.ts';

/** Aliases may make a small file huge; nobody's settings need many. */
const MAX_ALIASES = 100;

/** A YAML (or JSON) text that was checked against its schema. */
export interface CheckedYaml<T> {
  readonly value: T;
  /** What the file itself says, before defaults were filled in. */
  readonly given: unknown;
}

type Path = readonly (string | number)[];

/**
 * Reads a settings file and checks it. Throws `settings-invalid` with file and line: what is
 * wrong and what is allowed there. Several faults are all named; the first gives the line.
 */
export function readYaml<T>(file: InputFile, schema: z.ZodType<T>): CheckedYaml<T> {
  const lines = new LineCounter();
  const document = parsed(file, lines);
  const [fault] = document.errors;
  if (fault !== undefined) {
    const line = fault.linePos?.[0].line;
    throw invalid(
      file,
      line,
      `is not valid YAML: ${firstLine(fault.message)}`,
      'Put the text right; a colon, an indent or a quote is often the cause.',
    );
  }
  const given = plainValue(file, document);
  const checked = schema.safeParse(given);
  if (checked.success) return { value: checked.data, given };
  const faults = checked.error.issues
    .map((issue) => ({ ...describe(issue, schema), line: lineOf(document, lines, issue) }))
    .sort((a, b) => (a.line ?? 0) - (b.line ?? 0));
  const [first, ...more] = faults;
  const others = more.map(({ line, text }) => `; line ${line}: ${text}`).join('');
  throw invalid(
    file,
    first?.line,
    `${first?.text}${others}`,
    faults.find((each) => each.todo !== null)?.todo ??
      'Correct the value; samples/pumping-station/project.yaml shows what may be said.',
  );
}

/** The library goes down one call a level; a text of endless levels ends its stack. */
function parsed(file: InputFile, lines: LineCounter): Document {
  const text = decode(file);
  try {
    return parseDocument(text, { lineCounter: lines, uniqueKeys: true });
  } catch (cause) {
    throw new SealbookError('settings-invalid', `${file.name} can't be read as YAML.`, {
      where: { file: file.name },
      todo: 'Put the text right; lines indented by mistake or repeated are often the cause.',
      cause,
    });
  }
}

/** The plain value, with aliases filled in as long as they are few. */
function plainValue(file: InputFile, document: Document): unknown {
  let value: unknown;
  try {
    value = document.toJS({ maxAliasCount: MAX_ALIASES }) ?? {};
  } catch (cause) {
    const text = cause instanceof Error ? firstLine(cause.message) : 'it has no value';
    throw new SealbookError('settings-invalid', `${file.name} can't be used: ${text}.`, {
      where: { file: file.name },
      todo: 'Write out what aliases (*name) stand for.',
      cause,
    });
  }
  // Objects have it already: what stands under it would be dropped in silence.
  if (holdsProto(value, 0)) {
    throw new SealbookError(
      'settings-invalid',
      `${file.name}: __proto__ can't be used as a name.`,
      {
        where: { file: file.name },
        todo: 'Choose another name.',
      },
    );
  }
  return value;
}

const DEEPEST = 100;

function holdsProto(value: unknown, depth: number): boolean {
  if (typeof value !== 'object' || value === null || depth > DEEPEST) return false;
  return (
    Object.hasOwn(value, '__proto__') ||
    Object.values(value).some((child) => holdsProto(child, depth + 1))
  );
}

function decode(file: InputFile): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(file.bytes);
  } catch (cause) {
    throw new SealbookError('settings-invalid', `${file.name} is not UTF-8 text.`, {
      where: { file: file.name },
      todo: 'Save it as UTF-8.',
      cause,
    });
  }
}

function invalid(
  file: InputFile,
  line: number | undefined,
  text: string,
  todo: string,
): SealbookError {
  const where = line === undefined ? file.name : `${file.name}, line ${line}`;
  return new SealbookError('settings-invalid', `${where}: ${text}.`, {
    where: { file: file.name, ...(line === undefined ? {} : { line }) },
    todo,
  });
}

function describe(
  issue: z.core.$ZodIssue,
  schema: z.ZodType,
): { text: string; todo: string | null } {
  const path = pathOf(issue);
  const name = path.join('.');
  if (issue.code === 'unrecognized_keys') {
    const keys = issue.keys.map((key) => [...path, key].join('.')).join(', ');
    const allowed = allowedAt(schema, path);
    return {
      text: `${keys} is not a setting`,
      todo: allowed.length > 0 ? `Allowed here: ${allowed.join(', ')}.` : null,
    };
  }
  return { text: `${name === '' ? 'the file' : name}: ${issue.message}`, todo: null };
}

function lineOf(
  document: Document,
  lines: LineCounter,
  issue: z.core.$ZodIssue | undefined,
): number | undefined {
  if (issue === undefined) return undefined;
  const path = pathOf(issue);
  const full = issue.code === 'unrecognized_keys' ? [...path, issue.keys[0] ?? ''] : path;
  // The value itself may be missing: then its nearest parent that is there.
  for (let length = full.length; length > 0; length -= 1) {
    const node: unknown = document.getIn(full.slice(0, length), true);
    if (isNode(node) && node.range) return lines.linePos(node.range[0]).line;
  }
  return 1;
}

function pathOf(issue: z.core.$ZodIssue): Path {
  return issue.path.map((part) => (typeof part === 'symbol' ? String(part) : part));
}

function firstLine(text: string): string {
  return (text.split('\n')[0] ?? '').replace(/[.:]$/, '');
}
