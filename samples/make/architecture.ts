import { GRID, HOSTS, SPACES, STATION, STOREYS } from '../dimensions/building.ts';
import { OPENINGS } from '../dimensions/openings.ts';
import type { V2 } from '../dimensions/types.ts';
import { addHosts, addOpenings } from './ifc-hosts.ts';
import { IfcProject } from './ifc-project.ts';
import { enumeration, list, NULL, type Step, text } from './step-writer.ts';

export const ARCHITECTURE_FILE = 'architecture.ifc';

/** The architecture model, IFC4, in millimetres. */
export function architectureIfc(): string {
  const project = new IfcProject({
    schema: 'IFC4',
    fileName: ARCHITECTURE_FILE,
    projectName: STATION.number,
    buildingName: STATION.name,
    date: STATION.date,
    unitMm: 1,
  });
  for (const storey of STOREYS) project.storey(storey.mark, storey.name, storey.elevationMm);
  addGrid(project);
  const hosts = addHosts(project, HOSTS);
  for (const space of SPACES) addSpace(project, space);
  addOpenings(project, OPENINGS, hosts);
  return project.toText();
}

function addSpace(project: IfcProject, space: (typeof SPACES)[number]): void {
  const storey = project.storeyPlacement(space.storey);
  const placement = project.placement(storey.placement, [0, 0, space.baseMm - storey.elevationMm]);
  const solid = project.extrusion(
    project.closedProfile(space.outline),
    project.axes([0, 0, 0]),
    space.heightMm,
  );
  const element = project.step.add('IfcSpace', [
    project.step.globalId(`space ${space.mark}`),
    project.owner,
    text(space.mark),
    NULL,
    NULL,
    placement,
    project.shape({ kind: 'SweptSolid', item: solid }),
    text(space.longName),
    enumeration('ELEMENT'),
    enumeration('INTERNAL'),
    NULL,
  ]);
  project.addSpace(space.storey, element);
}

function addGrid(project: IfcProject): void {
  const beyondMm = 1500;
  const [left, right] = [GRID.x[0].atMm - beyondMm, GRID.x[3].atMm + beyondMm];
  const [bottom, top] = [GRID.y[0].atMm - beyondMm, GRID.y[2].atMm + beyondMm];
  const curves: Step[] = [];
  const axis = (tag: string, from: V2, to: V2): Step => {
    const curve = project.step.add('IfcPolyline', [
      list([project.point2(from), project.point2(to)]),
    ]);
    curves.push(curve);
    return project.step.add('IfcGridAxis', [text(tag), curve, enumeration('T')]);
  };
  const letters = GRID.x.map(({ tag, atMm }) => axis(tag, [atMm, bottom], [atMm, top]));
  const numbers = GRID.y.map(({ tag, atMm }) => axis(tag, [left, atMm], [right, atMm]));
  const set = project.step.add('IfcGeometricCurveSet', [list(curves)]);
  const representation = project.step.add('IfcShapeRepresentation', [
    project.footprintContext,
    text('FootPrint'),
    text('GeometricCurveSet'),
    list([set]),
  ]);
  const storey = project.storeyPlacement('00');
  const grid = project.step.add('IfcGrid', [
    project.step.globalId('grid'),
    project.owner,
    text('Building grid'),
    NULL,
    NULL,
    project.placement(storey.placement, [0, 0, 0]),
    project.step.add('IfcProductDefinitionShape', [NULL, NULL, list([representation])]),
    list(numbers),
    list(letters),
    NULL,
    enumeration('RECTANGULAR'),
  ]);
  project.contain('00', grid);
}
