import { GROUND_LEVEL_MM, STATION, WATER_LEVEL_MM } from '../dimensions/building.ts';
import { ARCHITECTURE_FILE } from './architecture.ts';
import { PIT_SECTION_FILE, SECTION_BASE_POINT, SECTION_WINDOW } from './pit-section.ts';
import { PLAN_FILE } from './plan.ts';
import { PLAN_BASE_POINT } from './plan-sheet.ts';
import { RANGE_FILE } from './range-yaml.ts';
import { CONTROL_SHEET, POWER_SHEET, SCHEDULE_FILE } from './schedule-xlsx.ts';
import { SERVICES_FILE } from './services.ts';

export const PROJECT_FILE = 'project.yaml';
export const DRAWINGS_PROJECT_FILE = 'drawings-only.yaml';

const HEAD = `project:
  name: ${STATION.name}
  number: ${STATION.number}
  documentNumber: ${STATION.document}
`;

const MODELS = `  # A model. Units, levels and the rest are read from the file itself.
  arch:
    path: ${ARCHITECTURE_FILE}
    kind: ifc
  # Written in metres by another office; both end up in one frame of millimetres.
  serv:
    path: ${SERVICES_FILE}
    kind: ifc
`;

const DRAWINGS = `  # A plan. It is drawn on a site sheet's coordinates: the point basePoint of the drawing is atMm in
  # the models' frame.
  plan:
    path: ${PLAN_FILE}
    kind: dxf
    units: mm
    views:
      - view: plan
        name: Ground floor plan
        level: 00 Ground floor
        elevationMm: 0
        # Where the plan does not say how high a service runs.
        serviceHeightMm: 3000
        basePoint: [${PLAN_BASE_POINT.join(', ')}]
        atMm: [0, 0, 0]
  # One wall seen from outside. Only what lies in the window belongs to it; beside it stand a detail
  # that is not to scale and the title.
  pit:
    path: ${PIT_SECTION_FILE}
    kind: dxf
    units: mm
    views:
      - view: section
        name: Pit wall on line 1, seen from outside
        window: [${SECTION_WINDOW.join(', ')}]
        level: B1 Cable pit
        basePoint: [${SECTION_BASE_POINT.join(', ')}]
        atMm: [8850, 0, 0]
        # The drawing's y of the datum line, and the height it stands for.
        datum: { y: ${SECTION_BASE_POINT[1]}, heightMm: 0 }
`;

const SCHEDULE = `  # The cable schedule. Title rows, the two-row header and the columns are found by themselves;
  # a column that is not found can be named under "columns". Other sheets are left alone.
  cables:
    path: ${SCHEDULE_FILE}
    kind: schedule
    sheets: [${POWER_SHEET}, ${CONTROL_SHEET}]
`;

/** Only where drawings are among the files. */
const LAYERS = `
# What the drawings' layers hold, beyond the usual habits: here conduits, not cables.
services:
  layers:
    - pattern: E-CABL-COND
      kind: conduit
    - pattern: E-POWR-DUCT
      kind: conduit
`;

const REST = `
# Where the ground and the water stand outside, on the models' heights (0 is the finished ground floor).
ground:
  levelMm: ${GROUND_LEVEL_MM}
  waterLevelMm: ${WATER_LEVEL_MM}

# What a seal must resist. Every condition under "when" must hold; the first lines are tried for every
# penetration, so one penetration may have several duties.
duties:
  # Storm water stands against the pit from outside. The head of each seal follows from its own height.
  - when: { belowGround: true, external: true }
    duty: water
    waterLevelMm: ${WATER_LEVEL_MM}
    side: outside
  # Walls and floors with a fire rating: the rating is the host's own.
  - when: { rated: true }
    duty: fire
  - when: { rated: true }
    duty: smoke
  # Outside walls and the roof above ground.
  - when: { external: true, belowGround: false }
    duty: pests
  - when: { external: true, belowGround: false }
    duty: air

# Fillers, sealants and consumables that may be used. This one is invented.
range: ${RANGE_FILE}

design:
  # Fillers stop this deep behind the face; the sealant lies in front of them.
  setBackMm: 20
  # Clear distance between cables, and from cables to the wall.
  separationMm: 4
  edgeMm: 4
  # One face, two, or as the duties ask.
  faces: auto
  wasteRatio: 0.1
  overfillMm: 1
  # Room that has to be left: cables that can be added without moving others.
  spare: { count: 1, diameterMm: 16 }
  fillCode: NEC ch. 9

tags:
  # {level} and {number} are filled in; :4 pads with zeros.
  pattern: "{level}-{number:4}"

issue:
  revision: ${STATION.revision}
  # Nothing in the output is dated by the clock.
  date: ${STATION.date}
  purpose: for comment
  status: tender
  preparedBy: design engineer
  checkedBy: not yet checked
  approvedBy: not yet approved

outputs:
  workbook: true
  json: true
`;

/** The whole project, commented for a reader who has never seen one. */
export function projectYaml(): string {
  return `# A sealbook project. Run it with:  sealbook run project.yaml
# What is left out has a default, which the output lists as assumed.
${HEAD}
# The files, each under a key of its own. The key outlives file names and revisions: keep it.
files:
${MODELS}${DRAWINGS}${SCHEDULE}${LAYERS}${REST}`;
}

/** The same job for whoever has no models: plan, section and schedule. */
export function drawingsProjectYaml(): string {
  return `# The same station for whoever has only the drawings and the schedule.
${HEAD.replace(STATION.document, `${STATION.document}-D`)}
files:
${DRAWINGS}${SCHEDULE}${LAYERS}${REST}`;
}
