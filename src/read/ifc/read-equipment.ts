import { sortedBy } from '../../basics/order.ts';
import { framePoint } from '../../geometry/frame3.ts';
import { scale3 } from '../../geometry/vec.ts';
import type { Equipment } from '../../model/building.ts';
import { elementId } from '../../model/ids.ts';
import type { Reading } from './reading.ts';

/**
 * What cables run from and to, in IFC2X3, IFC4 and IFC4X3: the distribution elements that are
 * neither segments nor fittings, in capitals.
 */
const EQUIPMENT_CLASSES: readonly string[] = [
  // Generic, as IFC2X3 has them.
  ...['IFCENERGYCONVERSIONDEVICE', 'IFCFLOWCONTROLLER', 'IFCFLOWMOVINGDEVICE'],
  ...['IFCFLOWSTORAGEDEVICE', 'IFCFLOWTERMINAL', 'IFCFLOWTREATMENTDEVICE'],
  ...['IFCDISTRIBUTIONCONTROLELEMENT', 'IFCDISTRIBUTIONFLOWELEMENT', 'IFCDISTRIBUTIONELEMENT'],
  ...['IFCELECTRICDISTRIBUTIONPOINT', 'IFCELECTRICALELEMENT', 'IFCEQUIPMENTELEMENT'],
  // By class, since IFC4.
  ...['IFCACTUATOR', 'IFCALARM', 'IFCCONTROLLER', 'IFCFLOWINSTRUMENT', 'IFCSENSOR'],
  ...['IFCUNITARYCONTROLELEMENT', 'IFCPROTECTIVEDEVICETRIPPINGUNIT'],
  ...['IFCBOILER', 'IFCBURNER', 'IFCCHILLER', 'IFCCOIL', 'IFCCONDENSER', 'IFCCOOLEDBEAM'],
  ...['IFCCOOLINGTOWER', 'IFCELECTRICGENERATOR', 'IFCELECTRICMOTOR', 'IFCENGINE', 'IFCEVAPORATOR'],
  ...['IFCHEATEXCHANGER', 'IFCHUMIDIFIER', 'IFCMOTORCONNECTION', 'IFCSOLARDEVICE'],
  ...['IFCTRANSFORMER', 'IFCUNITARYEQUIPMENT', 'IFCELECTRICDISTRIBUTIONBOARD'],
  ...[
    'IFCELECTRICTIMECONTROL',
    'IFCPROTECTIVEDEVICE',
    'IFCSWITCHINGDEVICE',
    'IFCVALVE',
    'IFCDAMPER',
  ],
  ...[
    'IFCFLOWMETER',
    'IFCCOMPRESSOR',
    'IFCFAN',
    'IFCPUMP',
    'IFCELECTRICFLOWSTORAGEDEVICE',
    'IFCTANK',
  ],
  ...[
    'IFCAIRTERMINAL',
    'IFCAUDIOVISUALAPPLIANCE',
    'IFCCOMMUNICATIONSAPPLIANCE',
    'IFCELECTRICAPPLIANCE',
  ],
  ...['IFCFIRESUPPRESSIONTERMINAL', 'IFCLAMP', 'IFCLIGHTFIXTURE', 'IFCMEDICALDEVICE', 'IFCOUTLET'],
  ...['IFCSANITARYTERMINAL', 'IFCSPACEHEATER', 'IFCMOBILETELECOMMUNICATIONSAPPLIANCE'],
  ...['IFCFILTER', 'IFCINTERCEPTOR', 'IFCDUCTSILENCER', 'IFCSIGNAL', 'IFCJUNCTIONBOX'],
];

/** Equipment that has a name and a place; what lacks one of them leads nowhere and is left out. */
export function readEquipment(reading: Reading): readonly Equipment[] {
  const found = EQUIPMENT_CLASSES.flatMap((type) => reading.step.idsOf(type)).flatMap(
    (id): Equipment[] => {
      const { globalId, name, tag } = reading.factsOf(id);
      const names = [name, tag ?? ''].map((text) => text.trim()).filter((text) => text !== '');
      const { frame, fault } = reading.placementOf(id);
      if (names.length === 0 || fault !== null) return [];
      const ref = { fileKey: reading.fileKey, id: globalId === '' ? `#${id}` : globalId };
      const positionMm = scale3(framePoint(frame, [0, 0, 0]), reading.units.mmPerUnit);
      return [{ id: elementId(ref), ref, names: [...new Set(names)], positionMm }];
    },
  );
  return sortedBy(found, ({ id }) => id);
}
