// npm run bench [-- finding drawings matching arrangement design workbook tags page portfolio whole [--keep]]
// Prints what was measured in this one run; nothing here passes or fails a build.
type Bench = () => Promise<string> | string;

const BENCHES: Readonly<Record<string, Bench>> = {
  finding: async () => {
    const { benchFinding, findingTable } = await import('./finding/finding-bench.ts');
    return findingTable(await benchFinding());
  },
  drawings: async () => {
    const { benchDrawings } = await import('./drawings/bench-drawings.ts');
    return factsText(await benchDrawings());
  },
  matching: async () => {
    const { benchMatching } = await import('./matching/match-bench.ts');
    return benchMatching().map(factsText).join('\n');
  },
  arrangement: async () => {
    const { mainTable } = await import('./arrangement/main-table.ts');
    mainTable();
    return '';
  },
  design: async () => {
    const { benchDesign } = await import('./design/design-bench.ts');
    return factsText(benchDesign());
  },
  workbook: async () => {
    const { benchWorkbook } = await import('./workbook/bench-workbook.ts');
    return (await benchWorkbook()).map(factsText).join('\n');
  },
  tags: async () => {
    const { benchIfcTags } = await import('./tags/tag-bench.ts');
    return factsText(benchIfcTags());
  },
  portfolio: async () => {
    const { benchPortfolio } = await import('./portfolio/portfolio-bench.ts');
    return (await benchPortfolio()).map(factsText).join('\n');
  },
  whole: async () => {
    const { benchWhole, wholeTable } = await import('./whole/whole-bench.ts');
    return wholeTable(benchWhole(), process.argv.includes('--keep'));
  },
  page: async () => {
    const { benchPage } = await import('./page/page-bench.ts');
    return factsText(await benchPage());
  },
};

const asked = process.argv.slice(2).filter((word) => !word.startsWith('--'));
const unknown = asked.filter((name) => !Object.hasOwn(BENCHES, name));
if (unknown.length > 0) {
  console.error(`No bench ${unknown.join(', ')}. There are: ${Object.keys(BENCHES).join(', ')}.`);
  process.exitCode = 2;
} else {
  for (const [name, bench] of Object.entries(BENCHES)) {
    if (asked.length > 0 && !asked.includes(name)) continue;
    console.log(`\n== ${name}`);
    console.log(await bench());
  }
}

/** One line of `name value` pairs. */
function factsText(facts: object): string {
  return Object.entries(facts)
    .map(
      ([name, value]) =>
        `${name} ${typeof value === 'number' ? round(value) : JSON.stringify(value)}`,
    )
    .join(', ');
}

function round(value: number): number {
  return Number(value.toPrecision(4));
}
