import { remembering } from '../../basics/remember.ts';
import { type PlanePiece, pieceStart } from '../../geometry/plane-curve.ts';
import type { Vec2 } from '../../geometry/vec.ts';
import type { CarrierForm, ServiceKind } from '../../model/building.ts';
import type {
  Drawing,
  DrawnEntity,
  DrawnLeader,
  DrawnSymbol,
  DrawnText,
  DrawnView,
} from '../../model/drawing.ts';
import { type ElementRef, elementId } from '../../model/ids.ts';
import { type LayerRole, layerRole, placesNamed } from '../../model/layer-role.ts';
import type { Settings } from '../../model/settings.ts';
import { partTwins, type Twin, textsOnce } from './drawn-twice.ts';
import { joinLetters } from './join-letters.ts';
import { joinOpenings } from './join-openings.ts';
import type { SheetItem } from './sheet-item.ts';

export interface ServiceItem extends SheetItem {
  readonly kind: ServiceKind;
  readonly carrierForm: CarrierForm | null;
}

/** What one view of a drawing shows, sorted by the part it plays. */
export interface Sheet {
  readonly drawing: Drawing;
  readonly view: DrawnView;
  readonly walls: readonly DrawnEntity[];
  readonly slabs: readonly DrawnEntity[];
  readonly services: readonly ServiceItem[];
  /** Entities that would be services but for the project's list of excluded layers. */
  readonly excluded: readonly ServiceItem[];
  readonly openings: readonly SheetItem[];
  /** Services and openings drawn again on the same spot; those they lie on count for them. */
  readonly twins: {
    readonly services: readonly Twin<ServiceItem>[];
    readonly openings: readonly Twin<SheetItem>[];
  };
  readonly others: readonly DrawnEntity[];
  /** Whether a layer's name tells nothing of what is on it. */
  readonly isUnknown: (layer: string) => boolean;
  readonly texts: readonly DrawnText[];
  readonly leaders: readonly DrawnLeader[];
  /** Blocks on other layers that carry attributes: tags beside what they name. */
  readonly tags: readonly DrawnSymbol[];
  /** Texts and tags that name axes and rooms, and nothing that passes. */
  readonly names: { readonly texts: readonly DrawnText[]; readonly tags: readonly DrawnSymbol[] };
  /** What was taken for what where the layers tell nothing, as sentences. */
  readonly guesses: readonly string[];
}

/** Sorts what lies in a view's window by the roles of its layers. */
export function makeSheet(drawing: Drawing, view: DrawnView, settings: Settings): Sheet {
  const roleOf = remembering((layer) => layerRole(layer, settings));
  const inWindow = windowTest(view);
  const symbols = new Map(drawing.symbols.map((symbol) => [symbol.ref.id, symbol]));
  const walls: DrawnEntity[] = [];
  const slabs: DrawnEntity[] = [];
  const others: DrawnEntity[] = [];
  const items = new Items(roleOf, settings);
  const tags: DrawnSymbol[] = [];
  const placeTags: DrawnSymbol[] = [];
  const namesPlaces = remembering((name) => placesNamed(name, roleOf(name)) !== null);
  for (const symbol of drawing.symbols) {
    if (!inWindow(symbol.positionMm)) continue;
    const isItem = items.addSymbol(symbol, symbols);
    if (isItem || symbol.attributes.length === 0) continue;
    (namesPlaces(symbol.layer) || namesPlaces(symbol.blockName) ? placeTags : tags).push(symbol);
  }
  for (const entity of drawing.entities) {
    if (!inWindow(placeOf(entity))) continue;
    if (items.addEntity(entity, symbols)) continue;
    const { role } = roleOf(entity.layer);
    if (role === 'wall' && !isPatternLine(entity)) walls.push(entity);
    else if (role === 'slab') slabs.push(entity);
    else others.push(entity);
  }
  const texts = joinLetters(textsOnce(drawing.texts.filter(({ centreMm }) => inWindow(centreMm))));
  return {
    drawing,
    view,
    walls,
    slabs,
    others,
    isUnknown: (layer) => roleOf(layer).role === 'unknown',
    ...items.result(),
    texts: texts.filter(({ layer }) => !namesPlaces(layer)),
    tags,
    names: { texts: texts.filter(({ layer }) => namesPlaces(layer)), tags: placeTags },
    guesses: [],
    leaders: drawing.leaders.filter(({ tailMm }) => inWindow(tailMm)),
  };
}

/** Lines of a hatch that was taken apart, on a layer of its own, are no faces. AIA/NCS: minor group PATT. */
function isPatternLine({ layer, form, loops }: DrawnEntity): boolean {
  const isOpen = loops.every(({ isClosed }) => !isClosed);
  return form === 'curve' && isOpen && /(?:^|[-_ .$|])(?:PATT|HATCH|POCHE|SCHRAFF)/i.test(layer);
}

interface ItemDraft {
  readonly ref: ElementRef;
  readonly layer: string;
  readonly type: string;
  readonly symbol: DrawnSymbol | null;
  readonly role: LayerRole;
  readonly isExcluded: boolean;
  readonly entities: DrawnEntity[];
}

/** Gathers entities into items. */
class Items {
  private readonly drafts = new Map<string, ItemDraft>();
  private readonly roleOf: (layer: string) => LayerRole;
  private readonly unexcluded: Settings;

  constructor(roleOf: (layer: string) => LayerRole, settings: Settings) {
    this.roleOf = roleOf;
    this.unexcluded = {
      ...settings,
      hosts: { ...settings.hosts, excludeLayers: [] },
      services: { ...settings.services, excludeLayers: [] },
    };
  }

  /** Whether the block is an item or belongs to one. */
  addSymbol(symbol: DrawnSymbol, symbols: ReadonlyMap<string, DrawnSymbol>): boolean {
    const owner = this.ownerOf(symbol.within, symbols);
    return owner !== null || this.draft(symbol.ref, symbol.layer, 'INSERT', symbol) !== null;
  }

  /** Whether the entity belongs to an item. */
  addEntity(entity: DrawnEntity, symbols: ReadonlyMap<string, DrawnSymbol>): boolean {
    const owner = this.ownerOf(entity.within, symbols);
    const draft = owner ?? this.draft(entity.ref, entity.layer, entity.type, null);
    draft?.entities.push(entity);
    return draft !== null;
  }

  result(): Pick<Sheet, 'services' | 'excluded' | 'openings' | 'twins'> {
    const services: ServiceItem[] = [];
    const excluded: ServiceItem[] = [];
    const openings: SheetItem[] = [];
    for (const draft of this.drafts.values()) {
      const { ref, layer, type, symbol, entities, role } = draft;
      const item: SheetItem = { id: elementId(ref), ref, layer, type, symbol, entities };
      if (role.role === 'opening') openings.push(item);
      if (role.role !== 'service') continue;
      const service = { ...item, kind: role.kind, carrierForm: role.carrierForm };
      if (draft.isExcluded) excluded.push(service);
      else services.push(service);
    }
    const once = { services: partTwins(services), openings: partTwins(openings) };
    return {
      services: once.services.items,
      excluded,
      openings: joinOpenings(once.openings.items),
      twins: { services: once.services.twins, openings: once.openings.twins },
    };
  }

  private ownerOf(
    within: readonly string[],
    symbols: ReadonlyMap<string, DrawnSymbol>,
  ): ItemDraft | null {
    for (const id of within) {
      const symbol = symbols.get(id);
      if (symbol === undefined) continue;
      const draft = this.draft(symbol.ref, symbol.layer, 'INSERT', symbol);
      if (draft !== null) return draft;
    }
    return null;
  }

  private draft(
    ref: ElementRef,
    layer: string,
    type: string,
    symbol: DrawnSymbol | null,
  ): ItemDraft | null {
    const known = this.drafts.get(ref.id);
    if (known !== undefined) return known;
    const given = this.roleOf(layer);
    const isExcluded = given.role === 'excluded';
    const role = isExcluded ? layerRole(layer, this.unexcluded) : given;
    if (role.role !== 'service' && role.role !== 'opening') return null;
    if (isExcluded && role.role === 'opening') return null;
    const draft: ItemDraft = { ref, layer, type, symbol, role, isExcluded, entities: [] };
    this.drafts.set(ref.id, draft);
    return draft;
  }
}

function windowTest({ windowMm }: DrawnView): (point: Vec2) => boolean {
  if (windowMm === null) return () => true;
  const [x1, y1, x2, y2] = windowMm;
  return ([x, y]) => x >= x1 && x <= x2 && y >= y1 && y <= y2;
}

/** A point that tells in which window an entity lies: the middle of its first piece. */
function placeOf(entity: DrawnEntity): Vec2 {
  const piece: PlanePiece | undefined = entity.loops[0]?.pieces[0];
  if (piece === undefined) return [Number.NaN, Number.NaN];
  if (piece.type === 'arc') return piece.centre;
  const [x, y] = pieceStart(piece);
  return [(x + piece.to[0]) / 2, (y + piece.to[1]) / 2];
}
