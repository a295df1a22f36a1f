import type { OpeningDim, ShapeDim } from '../dimensions/types.ts';
import type { IfcProject, PropertyValue } from './ifc-project.ts';
import { enumeration, NULL, type Step, text } from './step-writer.ts';

/** Asks for a void in the way of each schema: the class, the property set and the relation differ. */
export function addProvision(
  project: IfcProject,
  opening: OpeningDim,
  attributes: readonly Step[],
  at: { readonly storey: string; readonly host: Step },
): void {
  switch (project.schema) {
    case 'IFC2X3': {
      const proxy = project.step.add('IfcBuildingElementProxy', [
        ...attributes,
        enumeration('ELEMENT'),
      ]);
      project.contain(at.storey, proxy);
      project.properties(opening.mark, proxy, 'Void_Request', sizes('Shape', opening.shape));
      project.relation('IfcRelConnectsElements', opening.mark, [NULL, proxy, at.host]);
      return;
    }
    case 'IFC4': {
      const proxy = project.step.add('IfcBuildingElementProxy', [
        ...attributes,
        enumeration('PROVISIONFORVOID'),
      ]);
      project.contain(at.storey, proxy);
      project.properties(
        opening.mark,
        proxy,
        'Pset_BuildingElementProxyProvisionForVoid',
        sizes('Shape', opening.shape),
      );
      project.relation('IfcRelInterferesElements', opening.mark, [
        proxy,
        at.host,
        NULL,
        text('ProvisionForVoid'),
        enumeration('U'),
      ]);
      return;
    }
    case 'IFC4X3_ADD2': {
      const virtual = project.step.add('IfcVirtualElement', [
        ...attributes,
        enumeration('PROVISIONFORVOID'),
      ]);
      project.contain(at.storey, virtual);
      project.properties(
        opening.mark,
        virtual,
        'Pset_ProvisionForVoid',
        sizes('VoidShape', opening.shape),
      );
      project.relation('IfcRelInterferesElements', opening.mark, [
        virtual,
        at.host,
        NULL,
        text('ProvisionForVoid'),
        enumeration('U'),
        NULL,
      ]);
    }
  }
}

function sizes(shapeProperty: string, shape: ShapeDim): readonly PropertyValue[] {
  const length = (name: string, value: number): PropertyValue => ({
    name,
    type: 'IfcPositiveLengthMeasure',
    value,
  });
  const outline =
    shape.type === 'circle'
      ? [length('Diameter', shape.diameterMm)]
      : [
          length('Width', shape.type === 'slot' ? shape.lengthMm : shape.widthMm),
          length('Height', shape.type === 'slot' ? shape.widthMm : shape.heightMm),
        ];
  return [
    {
      name: shapeProperty,
      type: 'IfcLabel',
      value: shape.type === 'circle' ? 'Round' : 'Rectangle',
    },
    ...outline,
    { name: 'System', type: 'IfcLabel', value: 'Electrical' },
  ];
}
