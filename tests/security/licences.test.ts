import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { repoRoot } from '../set-up/outside.ts';

interface LockedPackage {
  readonly version?: string;
  readonly license?: string;
  readonly dev?: boolean;
  readonly devOptional?: boolean;
  readonly link?: boolean;
  readonly resolved?: string;
  readonly integrity?: string;
}

const lock = JSON.parse(readFileSync(path.join(repoRoot, 'package-lock.json'), 'utf8')) as {
  readonly packages: Readonly<Record<string, LockedPackage>>;
};
const packages = Object.entries(lock.packages).filter(([where]) => where !== '');

/** Licences under which a package may be shipped or used as it is; SPDX names. */
const ALLOWED = new Set([
  ...['MIT', 'MIT-0', 'ISC', '0BSD', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', 'MPL-2.0'],
  ...['CC0-1.0', 'Unlicense', 'BlueOak-1.0.0', 'Python-2.0', 'Zlib', 'WTFPL', 'CC-BY-4.0'],
]);

/** Tools of tests may have these too, since nothing of them is shipped. */
const ALLOWED_FOR_TOOLS = new Set(['LGPL-3.0-or-later']);

/** Looked at by hand, since they name their licence in another way. */
const BY_HAND: Readonly<Record<string, string>> = {
  // Bitstream Vera and public domain: may be shipped with programs.
  'dejavu-fonts-ttf': 'own free licence',
  // Written "MIT/X11", which is MIT.
  chainsaw: 'MIT',
  // A slip of letters for BSD-3-Clause; its LICENSE file says so.
  'splaytree-ts': 'BSD-3-Clause',
  // Names none; a part of the same author's family of MIT packages, used by exceljs for reading streams alone.
  buffers: 'none named',
};

function nameOf(where: string): string {
  return where.slice(where.lastIndexOf('node_modules/') + 'node_modules/'.length);
}

function licenceOf(where: string, { license }: LockedPackage): string {
  if (license !== undefined) return license;
  const file = path.join(repoRoot, where, 'package.json');
  if (!existsSync(file)) return 'not known';
  const read = JSON.parse(readFileSync(file, 'utf8')) as {
    license?: string | { type?: string };
    licenses?: readonly { type?: string }[];
  };
  const named = typeof read.license === 'string' ? read.license : read.license?.type;
  return named ?? read.licenses?.map(({ type }) => type).join(' OR ') ?? 'not known';
}

/** One of the licences offered is enough; all of those that are joined are needed. */
function isAllowed(licence: string, isTool: boolean): boolean {
  const may = (each: string) => ALLOWED.has(each) || (isTool && ALLOWED_FOR_TOOLS.has(each));
  const plain = licence.replace(/[()]/g, '');
  return plain
    .split(' OR ')
    .some((offer) => offer.split(' AND ').every((each) => may(each.trim())));
}

test('every package has a licence that may be used', () => {
  const refused = packages
    .map(([where, each]) => {
      const isTool = each.dev === true || each.devOptional === true;
      return { name: nameOf(where), licence: licenceOf(where, each), isTool };
    })
    .filter(
      ({ name, licence, isTool }) => !isAllowed(licence, isTool) && BY_HAND[name] === undefined,
    );
  expect(refused).toEqual([]);
  // What is looked at by hand is still there.
  const names = packages.map(([where]) => nameOf(where));
  expect(Object.keys(BY_HAND).filter((name) => !names.includes(name))).toEqual([]);
});

test('each package is pinned by version and by the hash of its content', () => {
  const manifest = JSON.parse(readFileSync(path.join(repoRoot, 'package.json'), 'utf8')) as Record<
    'dependencies' | 'devDependencies',
    Readonly<Record<string, string>>
  >;
  const asked = [
    ...Object.values(manifest.dependencies),
    ...Object.values(manifest.devDependencies),
  ];
  expect(asked.filter((version) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([]);
  const loose = packages.filter(
    ([, { integrity, resolved }]) =>
      integrity === undefined ||
      (resolved !== undefined && !resolved.startsWith('https://registry.npmjs.org/')),
  );
  expect(loose.map(([where]) => where)).toEqual([]);
});

test('the licences of what is shipped are those on the list', () => {
  const shipped = packages
    .filter(([, { dev, devOptional }]) => !dev && !devOptional)
    .map(([where, each]) => `${nameOf(where)} ${each.version ?? ''} ${licenceOf(where, each)}`)
    .sort();
  const list = readFileSync(path.join(repoRoot, 'tests/security/shipped-licences.txt'), 'utf8');
  expect(shipped).toEqual(list.trim().split('\n'));
});
