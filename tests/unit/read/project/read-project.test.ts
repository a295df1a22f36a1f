import { describe, expect, test } from 'vitest';
import { SealbookError } from '../../../../src/basics/errors.ts';
import { guessProject } from '../../../../src/read/project/guess-project.ts';
import { readProject } from '../../../../src/read/project/read-project.ts';

function project(text: string) {
  return readProject({
    key: 'project',
    name: 'project.yaml',
    bytes: new TextEncoder().encode(text),
  });
}

function faultOf(text: string): SealbookError {
  try {
    project(text);
  } catch (error) {
    if (error instanceof SealbookError) return error;
    throw error;
  }
  throw new Error('The project was accepted.');
}

describe('a project file', () => {
  test('may be empty: everything is then assumed and listed', () => {
    const { settings, assumptions } = project('');
    expect(settings.design.setBackMm).toBe(20);
    expect(assumptions).toContainEqual({
      path: 'design.setBackMm',
      value: '20',
      source: 'assumed: common practice, no source',
    });
  });

  test('what it says is not listed as assumed', () => {
    const { settings, assumptions } = project('design:\n  setBackMm: 30\n');
    expect(settings.design.setBackMm).toBe(30);
    expect(assumptions.map(({ path }) => path)).not.toContain('design.setBackMm');
    expect(assumptions.map(({ path }) => path)).toContain('design.wasteRatio');
  });

  test('an unknown setting is refused with line and what is allowed', () => {
    const fault = faultOf('project:\n  name: Station\ndesign:\n  wasteRatio: 0.1\n  setback: 20\n');
    expect(fault.code).toBe('settings-invalid');
    expect(fault.where).toEqual({ file: 'project.yaml', line: 5 });
    expect(fault.message).toContain('design.setback is not a setting');
    expect(fault.todo).toContain('setBackMm');
  });

  test('a value of the wrong kind is refused with its line', () => {
    const fault = faultOf('design:\n\n  wasteRatio: a tenth\n');
    expect(fault.where.line).toBe(3);
    expect(fault.message).toContain('design.wasteRatio');
  });

  test('a ratio given in percent is refused, since it would multiply by ten', () => {
    expect(faultOf('design: { wasteRatio: 10 }').message).toContain('design.wasteRatio');
  });

  test('a file entry of unknown kind is refused', () => {
    expect(faultOf('files:\n  arch: { path: a.ifc, kind: model }\n').where.line).toBe(2);
  });

  test('broken YAML is refused with its line', () => {
    const fault = faultOf('project:\n  name: "open\n');
    expect(fault.code).toBe('settings-invalid');
    expect(fault.where.line).toBeGreaterThan(1);
  });

  test('bytes that are not UTF-8 are refused', () => {
    expect(() =>
      readProject({ key: 'project', name: 'p.yaml', bytes: Uint8Array.of(0xff, 0xfe, 0x00) }),
    ).toThrow('p.yaml is not UTF-8');
  });

  test('keys that would reach into prototypes stay plain data', () => {
    expect(() => project('__proto__: { polluted: true }')).toThrow(SealbookError);
    expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
  });

  test('a tag pattern without a number is refused, since all tags would be equal', () => {
    expect(faultOf('tags: { pattern: "{level}" }').message).toContain('tags.pattern');
  });
});

describe('a pile of files', () => {
  test('gets keys from names and kinds from endings, each listed', () => {
    const { settings, assumptions } = guessProject(['a/Arch Model.ifc', 'b/01 plan.DXF', 'c.xlsx']);
    expect(Object.entries(settings.files).map(([key, file]) => [key, file.kind])).toEqual([
      ['arch-model', 'ifc'],
      ['file-01-plan', 'dxf'],
      ['c', 'schedule'],
    ]);
    expect(assumptions.map(({ path }) => path)).toContain('files.arch-model');
  });

  test('two files of one name in different folders get keys of their own', () => {
    expect(Object.keys(guessProject(['a/x.ifc', 'b/x.ifc']).settings.files)).toEqual(['x', 'x-2']);
  });

  test('a kind that is not read is refused with advice', () => {
    expect(() => guessProject(['plan.dwg'])).toThrow('plan.dwg is not a kind of file that is read');
    expect(() => guessProject(['plan.constructor'])).toThrow(SealbookError);
  });
});
