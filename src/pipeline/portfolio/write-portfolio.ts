import type { PortfolioProject } from '../../model/portfolio.ts';
import { RESULT_CAUTION } from '../../write/result/build-result.ts';
import { materialTotals, portfolioBook } from '../../write/workbook/portfolio-book.ts';

/** The workbook of many projects, and the same facts for machines. */
export async function writePortfolio(
  projects: readonly PortfolioProject[],
): Promise<{ name: string; bytes: Uint8Array }[]> {
  const json = {
    format: 'sealbook-portfolio',
    version: 1,
    caution: RESULT_CAUTION,
    projects,
    totals: materialTotals(projects),
  };
  return [
    { name: 'portfolio.xlsx', bytes: await portfolioBook(projects) },
    {
      name: 'portfolio.json',
      bytes: new TextEncoder().encode(`${JSON.stringify(json, null, 2)}\n`),
    },
  ];
}
