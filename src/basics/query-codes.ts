/**
 * Every kind of query, with how much it matters and the role it is usually put to.
 * `note`: to know; `ask`: needs an answer; `stop`: the seal can't be issued without one.
 * Codes never change meaning. Add a code under the step that raises it.
 */
export const QUERY_CODES = {
  // reading models
  'element-without-geometry': { severity: 'ask', to: 'BIM coordinator' },
  'duplicate-global-id': { severity: 'note', to: 'BIM coordinator' },
  'malformed-global-id': { severity: 'note', to: 'BIM coordinator' },
  'dangling-reference': { severity: 'note', to: 'BIM coordinator' },
  'units-missing': { severity: 'ask', to: 'BIM coordinator' },
  'map-conversion-doubtful': { severity: 'ask', to: 'BIM coordinator' },
  'true-north-differs': { severity: 'ask', to: 'BIM coordinator' },
  'requirement-not-met': { severity: 'ask', to: 'BIM coordinator' },
  'units-differ': { severity: 'note', to: 'BIM coordinator' },
  'files-far-apart': { severity: 'ask', to: 'BIM coordinator' },
  'placement-missing': { severity: 'ask', to: 'BIM coordinator' },
  // reading drawings
  'drawing-units-doubtful': { severity: 'ask', to: 'drawing author' },
  'drawing-content-unread': { severity: 'note', to: 'drawing author' },
  'drawing-layers-unknown': { severity: 'ask', to: 'drawing author' },
  'drawing-reference-missing': { severity: 'note', to: 'drawing author' },
  'drawing-level-unknown': { severity: 'ask', to: 'drawing author' },
  'drawing-level-from-marks': { severity: 'note', to: 'drawing author' },
  // reading schedules
  'schedule-row-unclear': { severity: 'ask', to: 'electrical engineer' },
  'schedule-column-unused': { severity: 'ask', to: 'electrical engineer' },
  'cable-diameter-unknown': { severity: 'ask', to: 'electrical engineer' },
  'cable-duplicate': { severity: 'ask', to: 'electrical engineer' },
  // finding
  'service-ends-inside': { severity: 'ask', to: 'services engineer' },
  'service-within-host': { severity: 'note', to: 'services engineer' },
  'service-leaves-by-edge': { severity: 'ask', to: 'services engineer' },
  'service-without-opening': { severity: 'ask', to: 'BIM coordinator' },
  'service-through-other-element': { severity: 'ask', to: 'BIM coordinator' },
  'opening-without-service': { severity: 'ask', to: 'services engineer' },
  'opening-without-host': { severity: 'ask', to: 'BIM coordinator' },
  'opening-too-small': { severity: 'stop', to: 'BIM coordinator' },
  'opening-off-centre': { severity: 'ask', to: 'BIM coordinator' },
  'opening-spans-storeys': { severity: 'note', to: 'BIM coordinator' },
  'services-too-near': { severity: 'ask', to: 'services engineer' },
  'service-near-edge': { severity: 'ask', to: 'services engineer' },
  'opening-shared-by-trades': { severity: 'note', to: 'BIM coordinator' },
  'provision-not-cut': { severity: 'note', to: 'structural engineer' },
  'size-unknown': { severity: 'ask', to: 'services engineer' },
  'size-conflict': { severity: 'ask', to: 'services engineer' },
  'size-nominal': { severity: 'ask', to: 'services engineer' },
  'duplicate-element': { severity: 'note', to: 'BIM coordinator' },
  'reference-unclear': { severity: 'ask', to: 'services engineer' },
  'host-thickness-unknown': { severity: 'ask', to: 'structural engineer' },
  // matching
  'cable-match-doubtful': { severity: 'ask', to: 'electrical engineer' },
  'cable-no-penetration': { severity: 'ask', to: 'electrical engineer' },
  'cable-route-gap': { severity: 'ask', to: 'electrical engineer' },
  'penetration-without-cables': { severity: 'ask', to: 'electrical engineer' },
  'reference-ambiguous': { severity: 'ask', to: 'electrical engineer' },
  'reference-look-alike': { severity: 'ask', to: 'electrical engineer' },
  'circuits-mixed': { severity: 'ask', to: 'electrical engineer' },
  'contents-too-big': { severity: 'stop', to: 'electrical engineer' },
  'decision-unusable': { severity: 'ask', to: 'design engineer' },
  'decision-contradicted': { severity: 'ask', to: 'design engineer' },
  'change-unclear': { severity: 'ask', to: 'design engineer' },
  // design
  'opening-large-and-empty': { severity: 'ask', to: 'architect' },
  'arrangement-cannot-fit': { severity: 'stop', to: 'design engineer' },
  'arrangement-not-found': { severity: 'stop', to: 'design engineer' },
  'duty-evidence-missing': { severity: 'ask', to: 'design engineer' },
  'check-not-met': { severity: 'ask', to: 'design engineer' },
  'damper-question': { severity: 'ask', to: 'ventilation engineer' },
  'face-out-of-reach': { severity: 'ask', to: 'site supervisor' },
  'coring-question': { severity: 'ask', to: 'structural engineer' },
  // requirements, tags and issues of other programs
  'requirement-invalid': { severity: 'note', to: 'BIM coordinator' },
  'tag-not-written': { severity: 'ask', to: 'BIM coordinator' },
  'topic-unclear': { severity: 'note', to: 'BIM coordinator' },
  // workbooks that came back
  'workbook-foreign': { severity: 'ask', to: 'project lead' },
  'workbook-unmarked': { severity: 'note', to: 'project lead' },
  'workbook-older': { severity: 'note', to: 'project lead' },
  'workbook-newer': { severity: 'ask', to: 'project lead' },
  'edit-unusable': { severity: 'ask', to: 'design engineer' },
  'edits-contradict': { severity: 'ask', to: 'design engineer' },
  'column-added': { severity: 'note', to: 'design engineer' },
  'defect-open': { severity: 'ask', to: 'site supervisor' },
  'as-built-without-seal': { severity: 'ask', to: 'site supervisor' },
  // files
  'nothing-found': { severity: 'note', to: 'project lead' },
  'file-not-read': { severity: 'stop', to: 'project lead' },
} as const satisfies Record<string, { severity: QuerySeverity; to: string }>;

export type QuerySeverity = 'note' | 'ask' | 'stop';
export type QueryCode = keyof typeof QUERY_CODES;
