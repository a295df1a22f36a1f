import type { BlockMarks } from '../../formats/ifc/step-block.ts';

/** Comments round our lines in a model. They never change: older models are found by them. */
export const OUR_MARKS: BlockMarks = {
  begin: 'sealbook tags begin: added lines only, take them out to get the former file back',
  end: 'sealbook tags end',
};

export const PENETRATION_SET = 'Sealbook_Penetration';
export const SERVICE_SET = 'Sealbook_Service';
export const QUANTITY_SET = 'Sealbook_SealQuantities';

/** Object type of our seal elements. */
export const SEAL_TYPE = 'PENETRATION SEAL';
