/** Names as the schemas spell them; records write them in capitals. */
const NAMES = [
  'IfcBuildingElementPart',
  'IfcBuildingElementProxy',
  'IfcCableCarrierFitting',
  'IfcCableCarrierSegment',
  'IfcCableFitting',
  'IfcCableSegment',
  'IfcCovering',
  'IfcCurtainWall',
  'IfcDistributionChamberElement',
  'IfcDoor',
  'IfcDoorStandardCase',
  'IfcDuctFitting',
  'IfcDuctSegment',
  'IfcFlowFitting',
  'IfcFlowSegment',
  'IfcFooting',
  'IfcOpeningElement',
  'IfcOpeningStandardCase',
  'IfcPipeFitting',
  'IfcPipeSegment',
  'IfcPlate',
  'IfcRoof',
  'IfcSlab',
  'IfcSlabElementedCase',
  'IfcSlabStandardCase',
  'IfcVirtualElement',
  'IfcWall',
  'IfcWallElementedCase',
  'IfcWallStandardCase',
  'IfcWindow',
  'IfcWindowStandardCase',
  'IfcDiscreteAccessory',
  'IfcDamper',
  'IfcFlowController',
  'IfcFlowTerminal',
  'IfcBeam',
  'IfcColumn',
  'IfcMember',
  'IfcPile',
] as const;

const BY_CAPITALS: ReadonlyMap<string, string> = new Map(
  NAMES.map((name) => [name.toUpperCase(), name]),
);

/** `IFCWALL` as `IfcWall`; names we don't know only get their beginning right. */
export function className(capitals: string): string {
  return (
    BY_CAPITALS.get(capitals) ?? `Ifc${capitals.slice(3, 4)}${capitals.slice(4).toLowerCase()}`
  );
}
