/**
 * Our own requirements, shipped with the program: what a model must carry so that its penetrations
 * can be found, matched with cables and given duties. IDS 1.0; a test holds it against the
 * standard's schema.
 */
export const MODEL_READY_IDS = `<?xml version="1.0" encoding="UTF-8"?>
<ids xmlns="http://standards.buildingsmart.org/IDS" xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="http://standards.buildingsmart.org/IDS http://standards.buildingsmart.org/IDS/1.0/ids.xsd">
  <info>
    <title>A model ready for the sealing of penetrations</title>
    <version>1</version>
    <description>What walls, slabs, openings and services must carry so that every hole can be found, named, matched with its cables and given its duties.</description>
    <purpose>Coordination of penetrations</purpose>
  </info>
  <specifications>
${[
  specification(
    'hosts-rated',
    'Walls state fire rating and whether they are external',
    'IFC2X3 IFC4 IFC4X3_ADD2',
    entity('IFCWALL', 'IFCWALLSTANDARDCASE'),
    [
      property(
        'Pset_WallCommon',
        'FireRating',
        'IFCLABEL',
        'Write "none" where there is no rating.',
      ),
      property(
        'Pset_WallCommon',
        'IsExternal',
        'IFCBOOLEAN',
        'Decides which face meets weather and ground water.',
      ),
    ],
  ),
  specification(
    'slabs-rated',
    'Slabs state fire rating and whether they are external',
    'IFC2X3 IFC4 IFC4X3_ADD2',
    entity('IFCSLAB'),
    [
      property(
        'Pset_SlabCommon',
        'FireRating',
        'IFCLABEL',
        'Write "none" where there is no rating.',
      ),
      property(
        'Pset_SlabCommon',
        'IsExternal',
        'IFCBOOLEAN',
        'Decides which face meets weather and ground water.',
      ),
    ],
  ),
  specification(
    'hosts-placed',
    'Walls and slabs belong to a level',
    'IFC2X3 IFC4 IFC4X3_ADD2',
    entity('IFCWALL', 'IFCWALLSTANDARDCASE', 'IFCSLAB'),
    [partOf('IFCBUILDINGSTOREY')],
  ),
  specification(
    'openings-hosted',
    'Openings are cut into a wall, slab, roof or footing',
    'IFC2X3 IFC4 IFC4X3_ADD2',
    entity('IFCOPENINGELEMENT'),
    [
      partOf(
        'IFCWALL',
        'IFCWALLSTANDARDCASE',
        'IFCSLAB',
        'IFCROOF',
        'IFCFOOTING',
        'IFCPLATE',
        'IFCCOVERING',
        'IFCMEMBER',
        'IFCBEAM',
        'IFCCOLUMN',
        'IFCBUILDINGELEMENTPROXY',
      ),
    ],
  ),
  specification(
    'openings-named',
    'Openings have a name',
    'IFC2X3 IFC4 IFC4X3_ADD2',
    entity('IFCOPENINGELEMENT'),
    [attribute('Name', 'The reference that drawings and the cable schedule use.')],
  ),
  specification(
    'cables-sized',
    'Cables state their outside diameter',
    'IFC4 IFC4X3_ADD2',
    entity('IFCCABLESEGMENT'),
    [
      property(
        'Pset_CableSegmentTypeCableSegment',
        'OverallDiameter',
        'IFCPOSITIVELENGTHMEASURE',
        'Over the sheath, not the conductor.',
      ),
    ],
  ),
  specification(
    'pipes-sized',
    'Pipes state their outside diameter',
    'IFC4 IFC4X3_ADD2',
    entity('IFCPIPESEGMENT'),
    [
      property(
        'Pset_PipeSegmentTypeCommon',
        'OuterDiameter',
        'IFCPOSITIVELENGTHMEASURE',
        'Of the pipe itself, without insulation.',
      ),
    ],
  ),
  specification(
    'services-grouped',
    'Services belong to a system',
    'IFC4 IFC4X3_ADD2',
    entity('IFCCABLESEGMENT', 'IFCCABLECARRIERSEGMENT', 'IFCDUCTSEGMENT', 'IFCPIPESEGMENT'),
    [partOf('IFCDISTRIBUTIONSYSTEM', 'IFCDISTRIBUTIONCIRCUIT', 'IFCSYSTEM')],
  ),
  specification(
    'services-named',
    'Services have a name',
    'IFC4 IFC4X3_ADD2',
    entity('IFCCABLESEGMENT', 'IFCCABLECARRIERSEGMENT', 'IFCDUCTSEGMENT', 'IFCPIPESEGMENT'),
    [attribute('Name', 'The cable, conduit or route reference of the schedule.')],
  ),
].join('\n')}
  </specifications>
</ids>
`;

function specification(
  identifier: string,
  name: string,
  versions: string,
  applies: string,
  requirements: readonly string[],
): string {
  return `    <specification name="${name}" identifier="${identifier}" ifcVersion="${versions}">
      <applicability minOccurs="0" maxOccurs="unbounded">
        <entity>${applies}</entity>
      </applicability>
      <requirements>
        ${requirements.join('\n        ')}
      </requirements>
    </specification>`;
}

function entity(...names: readonly string[]): string {
  const [only] = names;
  if (names.length === 1) return `<name>${simple(only ?? '')}</name>`;
  const options = names.map((name) => `<xs:enumeration value="${name}"/>`).join('');
  return `<name><xs:restriction base="xs:string">${options}</xs:restriction></name>`;
}

function property(set: string, name: string, dataType: string, instructions: string): string {
  return `<property dataType="${dataType}" cardinality="required" instructions="${instructions.replaceAll('"', '&quot;')}"><propertySet>${simple(set)}</propertySet><baseName>${simple(name)}</baseName></property>`;
}

function attribute(name: string, instructions: string): string {
  return `<attribute cardinality="required" instructions="${instructions}"><name>${simple(name)}</name></attribute>`;
}

function partOf(...names: readonly string[]): string {
  return `<partOf cardinality="required"><entity>${entity(...names)}</entity></partOf>`;
}

function simple(text: string): string {
  return `<simpleValue>${text}</simpleValue>`;
}
