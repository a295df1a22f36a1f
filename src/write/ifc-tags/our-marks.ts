import type { BlockMarks } from '../../formats/ifc/step-block.ts';

/** Comments round our lines in a model. They never change: older models are found by them. */
export const OUR_MARKS: BlockMarks = {
  begin: 'sealbook tags begin: added lines only, take them out to get the former file back',
  end: 'sealbook tags end',
};
