// Sets a fresh machine up (Node 20 and git are all it needs), then does what is asked:
//   node setup.mjs start [FILES… | PROJECT] [options]   the main job; the sample project by default
//   node setup.mjs test [vitest filters]                all checks and tests
// Uses nothing but Node, since nothing else is installed when it begins.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.dirname(fileURLToPath(import.meta.url));
const tsc = path.join(root, 'node_modules/typescript/bin/tsc');
const say = (text) => process.stderr.write(`${text}\n`);

/** Debian packages that only the outside checks need, and how to see that they are there. */
const OUTSIDE_TOOLS = [
  { name: 'LibreOffice', packages: ['libreoffice-calc'], see: ['soffice', ['--version']] },
  { name: 'ezdxf', packages: ['python3-ezdxf'], see: ['/usr/bin/python3', ['-c', 'import ezdxf']] },
  {
    name: 'openpyxl',
    packages: ['python3-openpyxl', 'python3-pil'],
    see: ['/usr/bin/python3', ['-c', 'import openpyxl, PIL']],
  },
  { name: 'xmllint', packages: ['libxml2-utils'], see: ['xmllint', ['--version']] },
  { name: 'pdftoppm', packages: ['poppler-utils'], see: ['pdftoppm', ['-v']] },
  { name: 'Chromium', packages: ['chromium'], see: ['/usr/bin/chromium', ['--version']] },
  { name: 'Redis', packages: ['redis-server'], see: ['redis-server', ['--version']] },
  { name: 'zbarimg', packages: ['zbar-tools'], see: ['zbarimg', ['--version']] },
];

const [command, ...args] = process.argv.slice(2);
if (command === 'start') {
  setUp();
  // Options alone, as in `npm start -- --out DIR`, still speak of the sample project.
  const namesNothing = args[0] === undefined || args[0].startsWith('-');
  const sample = namesNothing ? [path.join(root, 'samples/pumping-station/project.yaml')] : [];
  const main = path.join(root, 'dist/cli/main.js');
  process.exitCode = run(process.execPath, [main, 'run', ...sample, ...args]);
} else if (command === 'test') {
  setUp();
  installOutsideTools();
  process.exitCode = testAll(args);
} else {
  say('Usage: node setup.mjs start [FILES…] | test [filters]');
  process.exitCode = 2;
}

function setUp() {
  const [major, minor] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 12)) {
    say(`sealbook needs Node 20.12 or newer; this is ${process.versions.node}.`);
    process.exit(2);
  }
  installPackages();
  build();
}

function installPackages() {
  const stamp = path.join(root, 'node_modules', '.sealbook-lock');
  const lock = createHash('sha256')
    .update(readFileSync(path.join(root, 'package-lock.json')))
    .digest('hex');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === lock) return;
  say('Installing packages (once) …');
  must(
    'npm',
    ['ci', '--no-audit', '--no-fund', '--loglevel=error'],
    'The packages could not be installed.',
  );
  writeFileSync(stamp, lock);
}

/** The product alone; tests are type-checked as one of the checks. */
function build() {
  say('Building …');
  must(
    process.execPath,
    [tsc, '-b', 'tsconfig.core.json', 'tsconfig.node.json'],
    'The build failed.',
  );
  buildPage();
}

/** The review page, anew where anything of the sources has changed. */
function buildPage() {
  const stamp = path.join(root, 'dist/page/.sources');
  const hash = createHash('sha256');
  const sources = readdirSync(path.join(root, 'src'), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.join(entry.parentPath ?? entry.path, entry.name));
  for (const file of [...sources.sort(), path.join(root, 'vite.config.ts')]) {
    hash.update(file).update(readFileSync(file));
  }
  const now = hash.digest('hex');
  if (existsSync(stamp) && readFileSync(stamp, 'utf8') === now) return;
  const vite = path.join(root, 'node_modules/vite/bin/vite.js');
  must(process.execPath, [vite, 'build'], 'The review page could not be built.');
  writeFileSync(stamp, now);
}

/** As root on Debian the outside checkers are installed; elsewhere their tests are left out by name. */
function installOutsideTools() {
  const missing = OUTSIDE_TOOLS.filter((tool) => !succeeds(...tool.see));
  if (missing.length === 0) return;
  const names = missing.map((tool) => tool.name).join(', ');
  if (process.getuid?.() !== 0 || !succeeds('apt-get', ['--version'])) {
    say(`Left out, since they can't be installed here: checks with ${names}.`);
    return;
  }
  say(`Installing outside checkers: ${names} …`);
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  spawnSync('apt-get', ['update', '-qq'], { stdio: 'ignore', env });
  const packages = missing.flatMap((tool) => tool.packages);
  const apt = spawnSync(
    'apt-get',
    ['install', '-y', '-qq', '--no-install-recommends', ...packages],
    {
      stdio: ['ignore', 'ignore', 'inherit'],
      env,
    },
  );
  if (apt.status !== 0) say(`apt-get could not install ${names}; their checks are left out.`);
}

/** Static checks and tests; the last line counts both. Gives the exit code. */
function testAll(filters) {
  const bin = (name) => path.join(root, 'node_modules', '.bin', name);
  const staticChecks = [
    ['types of everything', process.execPath, [tsc, '-b']],
    ['lint', bin('biome'), ['check', '.']],
    ['dependency rules', bin('depcruise'), ['src', '--config', '.dependency-cruiser.cjs']],
    ['unused code', bin('knip'), []],
  ];
  const counts = { passed: 1, failed: 0, skipped: 0 };
  say('passed: build');
  for (const [name, file, checkArgs] of filters.length > 0 ? [] : staticChecks) {
    const good = run(file, checkArgs) === 0;
    counts[good ? 'passed' : 'failed'] += 1;
    say(`${good ? 'passed' : 'FAILED'}: ${name}`);
  }
  countTests(bin('vitest'), filters, counts);
  const skipped = counts.skipped > 0 ? `, ${counts.skipped} skipped` : '';
  process.stdout.write(`${counts.passed} passed, ${counts.failed} failed${skipped}\n`);
  return counts.failed === 0 ? 0 : 1;
}

function countTests(vitest, filters, counts) {
  const report = path.join(root, 'dist', 'test-report.json');
  mkdirSync(path.dirname(report), { recursive: true });
  rmSync(report, { force: true });
  const status = run(vitest, [
    'run',
    ...filters,
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
  ]);
  if (!existsSync(report)) {
    counts.failed += 1;
    return;
  }
  const { testResults } = JSON.parse(readFileSync(report, 'utf8'));
  const failedBefore = counts.failed;
  for (const file of testResults) {
    // A file that does not load has no tests to count, and must not look like none failed.
    if (file.status === 'failed' && file.assertionResults.length === 0) counts.failed += 1;
    for (const { status: outcome, fullName } of file.assertionResults) {
      if (outcome === 'passed') counts.passed += 1;
      else if (outcome === 'failed') counts.failed += 1;
      else {
        counts.skipped += 1;
        say(`left out: ${fullName}`);
      }
    }
  }
  if (status !== 0 && counts.failed === failedBefore) counts.failed += 1;
}

function must(file, fileArgs, complaint) {
  // npm's own chatter goes to stderr, so that stdout stays clean for what is asked.
  const done = spawnSync(file, fileArgs, { cwd: root, stdio: ['ignore', 2, 2] });
  if (done.status === 0) return;
  say(complaint);
  process.exit(1);
}

function run(file, fileArgs) {
  const cwd = command === 'start' ? (process.env.INIT_CWD ?? process.cwd()) : root;
  const startsHere = args.length === 0 ? root : cwd;
  const done = spawnSync(file, fileArgs, { cwd: startsHere, stdio: 'inherit' });
  return done.status ?? 1;
}

function succeeds(file, fileArgs) {
  return spawnSync(file, fileArgs, { stdio: 'ignore' }).status === 0;
}
