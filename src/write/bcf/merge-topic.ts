import type { BcfTopic } from '../../formats/bcf/bcf-file.ts';

/**
 * A topic of a new run with what people did to it since the last: comments, state, assignment,
 * labels and views of their own stay theirs; title, description and our views are ours.
 */
export function mergeTopic(fresh: BcfTopic, old: BcfTopic): BcfTopic {
  const ours = new Set(fresh.viewpoints.map(({ guid }) => guid));
  const theirs = old.viewpoints.filter(({ guid }) => !ours.has(guid));
  const isChanged =
    fresh.title !== old.title || collapsed(fresh.description) !== collapsed(old.description);
  return {
    ...fresh,
    status: old.status ?? fresh.status,
    assignedTo: old.assignedTo ?? fresh.assignedTo,
    labels: [...new Set([...fresh.labels, ...old.labels])],
    links: [
      ...new Set([
        ...fresh.links,
        ...old.links.filter((link) => !link.startsWith('urn:sealbook:')),
      ]),
    ],
    createdOn: old.createdOn ?? fresh.createdOn,
    createdBy: old.createdBy ?? fresh.createdBy,
    modifiedOn: isChanged ? fresh.createdOn : old.modifiedOn,
    modifiedBy: isChanged ? fresh.createdBy : old.modifiedBy,
    comments: old.comments,
    viewpoints: [...fresh.viewpoints, ...theirs],
  };
}

/** A topic of ours whose question is gone: closed, with all that people wrote. */
export function retiredTopic(old: BcfTopic, on: string | null, by: string): BcfTopic {
  if (old.status === 'Closed') return old;
  return { ...old, status: 'Closed', modifiedOn: on ?? old.modifiedOn, modifiedBy: by };
}

/** White space does not count: the standard lets programs collapse it. */
function collapsed(text: string | null): string {
  return (text ?? '').replace(/\s+/g, ' ').trim();
}
