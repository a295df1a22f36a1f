import type { CarrierForm, ServiceKind } from './building.ts';
import type { Settings } from './settings.ts';

/** What is drawn on a layer, as far as its name tells. */
export type LayerRole =
  | { readonly role: 'wall' | 'slab' }
  | {
      readonly role: 'service';
      readonly kind: ServiceKind;
      readonly carrierForm: CarrierForm | null;
    }
  /** Holes, sleeves, provisions. */
  | { readonly role: 'opening' }
  /** Doors and windows: gaps in walls. */
  | { readonly role: 'doorOrWindow' }
  /** Texts, dimensions, grids, frames. */
  | { readonly role: 'annotation' }
  | { readonly role: 'excluded' }
  | { readonly role: 'unknown' };

type LayerSettings = Pick<Settings, 'hosts' | 'services'>;

/**
 * The role of a layer: the project's own lists first, then the usual habits. Prefixes of bound and
 * attached references (`NAME$0$`, `NAME|`) are stripped; case does not matter.
 */
export function layerRole(layer: string, settings: LayerSettings): LayerRole {
  const name = withoutReference(layer);
  const isIn = (patterns: readonly string[]) =>
    patterns.some((pattern) => matchesPattern(name, pattern) || matchesPattern(layer, pattern));
  if (isIn(settings.hosts.excludeLayers) || isIn(settings.services.excludeLayers)) {
    return { role: 'excluded' };
  }
  const listed = settings.services.layers.find(({ pattern }) => isIn([pattern]));
  if (listed !== undefined) {
    return { role: 'service', kind: listed.kind, carrierForm: carrierFormOf(wordsOf(name)) };
  }
  if (isIn(settings.hosts.layers)) {
    return { role: wordsOf(name).some((word) => SLAB_WORDS.has(word)) ? 'slab' : 'wall' };
  }
  return habitualRole(name);
}

/** A layer's name without the reference it came from. */
function withoutReference(layer: string): string {
  return layer.replace(/^.*(?:\$\d{1,3}\$|\|)/, '');
}

/** Whether a name fits a pattern in which `*` stands for any text; case does not matter. */
export function matchesPattern(name: string, pattern: string): boolean {
  const text = name.toLowerCase();
  const parts = pattern.toLowerCase().split('*');
  const first = parts[0] ?? '';
  const last = parts[parts.length - 1] ?? '';
  if (parts.length === 1) return text === first;
  if (!text.startsWith(first)) return false;
  let at = first.length;
  for (const part of parts.slice(1, -1)) {
    const found = text.indexOf(part, at);
    if (found === -1) return false;
    at = found + part.length;
  }
  return text.length - last.length >= at && text.endsWith(last);
}

const words = (text: string): ReadonlySet<string> => new Set(text.split(/\s+/));

/*
 * Words of layer names, upper case, accents stripped. Field codes of the US National CAD Standard
 * (four letters) stand beside words of several languages. All from memory and common practice.
 */
const GRID_WORDS = words(
  'GRID GRIDS GRIDLINE GRIDLINES ACHSE ACHSEN ACHSRASTER STRAMIEN STRAMIENEN ASSI EJES OSIE OSY MODULLINJE ' +
    'MODULLINJER STOMLINJE STOMLINJER MODULNET ОСИ',
);
const ANNOTATION_WORDS = words(
  'ANNO TEXT TXT DIM DIMS DIMENSION DIMENSIONS NOTE NOTES IDEN LABEL LABELS TAG TAGS SYMB TTLB TITLE ' +
    'BORDER FRAME LEGEND LEGN NPLT VIEWPORT VPORT REVC SCHD TABL BEMASSUNG TEXTE COTE COTES COTATION COTAS TEXTO ' +
    'TESTO QUOTE MASZ DEFPOINTS KEYN MARK REFR',
);
const OPENING_WORDS = words(
  'OPNG OPENING OPENINGS HOLE HOLES PENE PENT PENETRATION PENETRATIONS SLEEVE SLEEVES SLEV SLVE BWIC BUILDERSWORK ' +
    'PROVISION PROVISIONS VOID VOIDS COREHOLE COREHOLES DURCHBRUCH DURCHBRUCHE DURCHBRUECHE AUSSPARUNG AUSSPARUNGEN ' +
    'SPARING SPARINGEN RESERVATION RESERVATIONS PERCEMENT PERCEMENTS TREMIE TREMIES HUECO HUECOS PASAMUROS FORO FORI ' +
    'UTSPARING UTSPARINGER HALTAGNING ABERTURA ABERTURAS FUTAGE OTWOR OTWORY PROEM PROEMY ОТВЕРСТИЕ ОТВЕРСТИЯ ПРОЕМ ПРОЕМЫ',
);
const DOOR_WORDS = words(
  'DOOR DOORS GLAZ GLAZING WINDOW WINDOWS WIND TUR TUREN TUER TUEREN FENSTER PORTE PORTES FENETRE FENETRES PUERTA ' +
    'PUERTAS VENTANA VENTANAS PORTA PORTAS FINESTRA FINESTRE JANELA JANELAS DEUR DEUREN RAAM RAMEN KOZIJN DORR FONSTER ' +
    'DVERE OKNO OKNA DRZWI ДВЕРИ ДВЕРЬ ОКНА ОКНО',
);
const WALL_WORDS = words(
  'WALL WALLS PARTITION PARTITIONS PRTN WAND WANDE WAENDE MAUER MAUERN MAUERWERK MUR MURS MURO MUROS MURI PARETE ' +
    'PARETI PAREDE PAREDES PARED PARED MUUR MUREN WANDEN VAGG VAGGAR VAEG VAEGGE VEGG VEGGER SEINA SEINAT SCIANA SCIANY ' +
    'STENA STENY ZED ZDI ZDIVO DUVAR TABIQUE TABIQUES CLOISON CLOISONS VOILE VOILES MASONRY BLOCKWORK BRICKWORK ' +
    'СТЕНА СТЕНЫ ПЕРЕГОРОДКА ПЕРЕГОРОДКИ CHAMBER PIT MANHOLE SHAFTWALL CONC CONCRETE BETON',
);
const WALL_ENDINGS = ['WAND', 'WANDE', 'WANDEN', 'WALL', 'WALLS', 'MAUER', 'MUUR', 'VAGG', 'SEINA'];
const SLAB_WORDS = words(
  'SLAB SLABS DECKE DECKEN BODENPLATTE DALLE DALLES PLANCHER PLANCHERS LOSA LOSAS FORJADO SOLAIO SOLAI SOLETTA LAJE ' +
    'LAJES VLOER VLOEREN BJALKLAG LAATTA STROP PLYTA ПЕРЕКРЫТИЕ ПЛИТА RAFT',
);

const KIND_WORDS: readonly (readonly [ServiceKind, ReadonlySet<string>])[] = [
  [
    'carrier',
    words(
      'TRAY TRAYS CTRAY CTRY CABLETRAY LADDER LADDERS LADR CABLELADDER TRUNKING TRUNK TRNK TRNKG BASKET BSKT RACEWAY ' +
        'RACEWAYS RCWY WIREWAY WIREWAYS KABELTRASSE KABELTRASSEN KABELRINNE KABELRINNEN TRASSE TRASSEN KABELPRITSCHE ' +
        'KABELPRITSCHEN KABELLEITER KABELLEITERN KABELGOOT KABELGOTEN KABELLADDER KABELBAAN CHEMIN CHEMINS GOULOTTE ' +
        'GOULOTTES BANDEJA BANDEJAS CANALINA CANALETA CANALETAS PASSERELLE PASSERELLA ELETROCALHA ' +
        'ELETROCALHAS KABELSTEGE KABELSTEGAR KABELRANNA KABELRANNOR KABELBRO KABELBROER KABELKANAL KABELKANALE ' +
        'KAAPELIHYLLY KORYTO KORYTA KORYTKO KORYTKA DRABINKA DRABINKI ZLAB ZLABY TAVA KABLOTAVASI LOTOK ЛОТОК ЛОТКИ ' +
        'КОРОБ КОРОБА',
    ),
  ],
  [
    'conduit',
    words(
      'CNDT CNDU CNDTS CONDUIT CONDUITS LEERROHR LEERROHRE SCHUTZROHR SCHUTZROHRE FOURREAU FOURREAUX CAVIDOTTO ' +
        'CAVIDOTTI MANTELBUIS MANTELBUIZEN KABELBUIS KABELBUIZEN ELEKTROROHR ELEKTROROHRE CANALIZACION ELECTRODUCTO ' +
        'ELECTRODUCTOS ELETRODUTO ELETRODUTOS KABELSKYDD KABELROR TREKKEROR SUOJAPUTKI CHRANICKA CHRANICKY PESZEL',
    ),
  ],
  [
    'duct',
    words(
      'DUCT DUCTS DCTS DUCTBANK DUCTBANKS DCTB AIRDUCT DUCTWORK HVAC VENT VENTILATION LUFT LUFTUNG LUEFTUNG KANAL KANALE GAINE GAINES ' +
        'CONDUCTO CONDUCTOS DUTO DUTOS CANALE CANALI LUCHTKANAAL LUCHTKANALEN ВЕНТИЛЯЦИЯ ВОЗДУХОВОД ВОЗДУХОВОДЫ EXHS SUPL RETN',
    ),
  ],
  [
    'pipe',
    words(
      'PIPE PIPES PIPING PIPG PIPEWORK SANR DOMW STRM SPRN SPRINKLER FPRT SEWR SEWER WATR WATER GAS NGAS DRAIN ' +
        'DRAINAGE CHIL CHLW HOTW HTNG HEATING CNDW STEM STEAM ROHR ROHRE ROHRLEITUNG TUYAU TUYAUX TUYAUTERIE ' +
        'CANALISATION TUBERIA TUBERIAS TUBO TUBI TUBAZIONE TUBAZIONI LEIDING LEIDINGEN ROR PUTKI RURA RURY ТРУБА ТРУБЫ ' +
        'ВОДОПРОВОД КАНАЛИЗАЦИЯ ВОДА ГАЗ ТЕПЛОСЕТЬ АММИАК PLUM PLUMBING FUEL OILP',
    ),
  ],
  [
    'cable',
    words(
      'CABL CBLE CBL CBLS CABLE CABLES CABLING POWR PWR POWER WIRE WIRES WIRING KABEL KABELS KABELN KABLAR KABLER KABELY CAVO CAVI CABOS CAVE CABO КАБЕЛЬ КАБЕЛИ TELC TELE TELECOM COMM ' +
        'DATA FIBR FIBRE FIBER UNDR CIRC GRND EARTHING BUSW INST CTRL CONTROL ELEC ELECTRICAL ELEKTRO ELECTRICITE ' +
        'ELECTRICIDAD ELETTRICO EL STROM STARKSTROM SCHWACHSTROM KAAPELI KAAPELIT KABLE KABLO KABLOLAR LIGHTNING FEEDER FEEDERS HV LV MV',
    ),
  ],
];

/** Disciplines of the National CAD Standard whose centre lines are services. */
const DISCIPLINES: Readonly<Record<string, ServiceKind>> = {
  E: 'cable',
  T: 'cable',
  M: 'duct',
  P: 'pipe',
  F: 'pipe',
};
const STRUCTURE_DISCIPLINES: ReadonlySet<string> = new Set(['A', 'S', 'AR', 'ST', 'AI']);
const NOT_BUILT_WORDS = words('DEMO HEAD DEMOLITION ABBRUCH CNTR CENTRE CENTER CENTERLINE CL AXIS');

/** Whether a layer's name speaks of the grid of a plan: `S-GRID`, `A-GRID-IDEN`, `ACHSEN`, `AXES`. */
export function speaksOfGrid(layer: string): boolean {
  const parts = wordsOf(withoutReference(layer));
  return parts.some((part) => GRID_WORDS.has(part) || part === 'AXES' || part === 'AXIS');
}

/** Whether a name of a layer or block speaks of an opening: `S-OPNG-SYMB`, `OPENING-MARK`. */
export function speaksOfOpenings(name: string): boolean {
  return wordsOf(name).some((word) => OPENING_WORDS.has(word));
}

const ROOM_WORDS = words(
  'ROOM ROOMS RM ROOMNAME ROOMNAMES SPACE SPACES SPCE AREA AREAS RAUM RAUME RAEUME RAUMSTEMPEL RAUMNAME RAUMNAMEN ' +
    'PIECE PIECES LOCAUX LOCALE LOCALI SALA SALAS RECINTO RECINTOS HABITACION RUIMTE RUIMTEN RUIMTENAAM RUM ROM ' +
    'HUONE TILA POMIESZCZENIE POMIESZCZENIA MISTNOST MISTNOSTI ПОМЕЩЕНИЕ ПОМЕЩЕНИЯ',
);

/** Whether a name of a layer or block speaks of rooms: `A-AREA-IDEN`, `RAUMSTEMPEL`, `ROOM-TAG`. */
export function speaksOfRooms(name: string): boolean {
  return wordsOf(withoutReference(name)).some((word) => ROOM_WORDS.has(word));
}

/** What the texts of a layer or block name: axes, rooms, or neither; null too where it holds what passes. */
export function placesNamed(name: string, { role }: LayerRole): 'grid' | 'rooms' | null {
  if (role !== 'annotation' && role !== 'unknown') return null;
  if (speaksOfGrid(name)) return 'grid';
  return speaksOfRooms(name) ? 'rooms' : null;
}

/** Upper-case words without accents, split at separators, digits' edges kept, and CamelCase. */
function wordsOf(name: string): string[] {
  return name
    .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/ß/g, 'ss')
    .replace(/[łŁ]/g, 'l')
    .replace(/[øØ]/g, 'o')
    .replace(/[æÆ]/g, 'ae')
    .toUpperCase()
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');
}

function habitualRole(name: string): LayerRole {
  const parts = wordsOf(name);
  const has = (set: ReadonlySet<string>) => parts.some((part) => set.has(part));
  if (has(ANNOTATION_WORDS) || has(GRID_WORDS)) return { role: 'annotation' };
  const coded = codedRole(name);
  if (coded !== null && coded.role === 'annotation') return coded;
  if (has(OPENING_WORDS)) return { role: 'opening' };
  if (has(DOOR_WORDS)) return { role: 'doorOrWindow' };
  const discipline = parts[0] ?? '';
  const service = serviceRole(parts, discipline);
  const isWall = parts.some(isWallWord);
  const isHost = isWall || has(SLAB_WORDS);
  // "S-CONC" is structure, "E-CONC-DUCT" a service: the discipline decides where both kinds stand.
  const prefersHost = isHost && (service === null || STRUCTURE_DISCIPLINES.has(discipline));
  if (prefersHost) {
    if (has(NOT_BUILT_WORDS)) return { role: 'unknown' };
    return { role: has(SLAB_WORDS) ? 'slab' : 'wall' };
  }
  return service ?? coded ?? { role: 'unknown' };
}

function isWallWord(word: string): boolean {
  return WALL_WORDS.has(word) || WALL_ENDINGS.some((ending) => word.endsWith(ending));
}

/**
 * "COND" is conduit among electrical layers and where nothing else is said, condensate among those of
 * mechanical and plumbing work. A ladder among architects' or structural layers is there to climb.
 */
const WET_DISCIPLINES: ReadonlySet<string> = new Set(['M', 'P', 'H', 'V', 'ME']);
const CLIMBED = words('LADDER LADDERS LADR');

/** "TRAY1" and "CONDUIT2" are trays and conduits; two letters and a number may be a level or a grid. */
const withoutNumber = (word: string): string => word.replace(/^(\p{L}{3,})\d{1,3}$/u, '$1');

function serviceRole(named: readonly string[], discipline: string): LayerRole | null {
  const isBuilder = STRUCTURE_DISCIPLINES.has(discipline);
  const parts = named.map(withoutNumber).filter((part) => !(isBuilder && CLIMBED.has(part)));
  for (const [kind, set] of KIND_WORDS) {
    if (parts.some((part) => set.has(part))) {
      return {
        role: 'service',
        kind,
        carrierForm: kind === 'carrier' ? carrierFormOf(parts) : null,
      };
    }
  }
  if (parts.includes('COND') && !isBuilder) {
    return serviceOf(WET_DISCIPLINES.has(discipline) ? 'pipe' : 'conduit');
  }
  const usual = Object.hasOwn(DISCIPLINES, discipline) ? DISCIPLINES[discipline] : undefined;
  if (usual === undefined || parts.length < 2) return null;
  if (discipline === 'T' || parts.includes('CNTR')) {
    return { role: 'service', kind: usual, carrierForm: null };
  }
  return null;
}

function carrierFormOf(parts: readonly string[]): CarrierForm | null {
  if (parts.some((part) => /LADDER|LADR|STEG|KABELLEITER|DRABINK/.test(part))) return 'ladder';
  if (parts.some((part) => /TRUNK|TRNK|KANAL|CANALINA|CANALETA|GOULOTTE/.test(part))) {
    return 'trunking';
  }
  return parts.some((part) => /TRAY|CTRY|RINNE|RANN|BANDEJA|KORYT|ELETROCALHA/.test(part))
    ? 'tray'
    : null;
}

/**
 * Element codes: Uniclass (G25 and the project's own G23 for walls, G22 floors, G5x services;
 * EF_/Ss_ 25 walls, 30 floors, 50–75 services) in BS 1192 names such as `A-G25-M2_Walls`, and
 * SfB numbers in the fixed columns of ISO 13567 (`A-21----E-`). All from memory.
 */
function codedRole(name: string): LayerRole | null {
  const upper = name.toUpperCase();
  const iso = /^[A-Z][A-Z0-9_-]([0-9]{2})[0-9_-]{4}([A-Z_-])[A-Z0-9_-]/.exec(upper);
  if (iso !== null) {
    if (/[ATDGJKP]/.test(iso[2] ?? '')) return { role: 'annotation' };
    return sfbRole(Number(iso[1]));
  }
  const bs = /^[A-Z]{1,2}-([A-Z0-9_]+)-([A-Z])[A-Z0-9]{0,2}(?:[-_]|$)/.exec(upper);
  if (bs === null) return null;
  if (/[TDPG]/.test(bs[2] ?? '') && bs[2] !== 'M') return { role: 'annotation' };
  return uniclassRole(bs[1] ?? '');
}

const serviceOf = (kind: ServiceKind): LayerRole => ({ role: 'service', kind, carrierForm: null });

function sfbRole(element: number): LayerRole | null {
  if (element === 21 || element === 22) return { role: 'wall' };
  if (element === 23) return { role: 'slab' };
  if (element === 31 || element === 32) return { role: 'doorOrWindow' };
  if (element === 57) return serviceOf('duct');
  if (element >= 52 && element <= 56) return serviceOf('pipe');
  return element >= 61 && element <= 64 ? serviceOf('cable') : null;
}

function uniclassRole(code: string): LayerRole | null {
  if (code === 'G25' || code === 'G23') return { role: 'wall' };
  if (code === 'G22') return { role: 'slab' };
  if (code === 'G32') return { role: 'doorOrWindow' };
  if (code === 'G50' || code === 'G51' || code === 'G58') return serviceOf('pipe');
  if (code === 'G52') return serviceOf('duct');
  if (/^G5[3-57]/.test(code)) return serviceOf('cable');
  const table = /^(?:EF|SS)_?([0-9]{2})/.exec(code);
  switch (table?.[1]) {
    case '25':
      return { role: 'wall' };
    case '30':
      return { role: 'slab' };
    case '50':
    case '55':
    case '60':
      return serviceOf('pipe');
    case '65':
      return serviceOf('duct');
    case '70':
    case '75':
      return serviceOf('cable');
    default:
      return null;
  }
}
