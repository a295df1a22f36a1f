import { STATION, STOREYS } from '../dimensions/building.ts';
import { RUNS } from '../dimensions/services.ts';
import { IfcProject } from './ifc-project.ts';
import { addRuns } from './ifc-runs.ts';

export const SERVICES_FILE = 'services.ifc';

/** The services model, IFC4, in metres: another office, another unit. */
export function servicesIfc(): string {
  const project = new IfcProject({
    schema: 'IFC4',
    fileName: SERVICES_FILE,
    projectName: STATION.number,
    buildingName: STATION.name,
    date: STATION.date,
    unitMm: 1000,
  });
  for (const storey of STOREYS) project.storey(storey.mark, storey.name, storey.elevationMm);
  addRuns(project, RUNS);
  return project.toText();
}
