/** What a column of a schedule can hold. The names are those of `columns` in the project file. */
export const COLUMNS = [
  'ref',
  'type',
  'construction',
  'cores',
  'size',
  'diameter',
  'smallestDiameter',
  'largestDiameter',
  'mass',
  'from',
  'to',
  'fromRoom',
  'toRoom',
  'route',
  'circuit',
  'circuitRef',
  'phase',
  'current',
  'voltage',
  'status',
  'stage',
  'quantity',
  'remarks',
  'length',
  'item',
  'other',
] as const;

export type Column = (typeof COLUMNS)[number];

/** Columns that are recognised only to leave them alone. */
export const UNUSED_COLUMNS: ReadonlySet<Column> = new Set<Column>(['length', 'item', 'other']);

/**
 * Headings by column, as they are written in English, German, French, Spanish, Swedish, Dutch and
 * Italian schedules, lower case, without marks. Whole headings, not parts of them: "cable" in
 * "cable tray" is no reference. `item`, `length` and `other` are known so as not
 * to be mistaken.
 */
const HEADINGS: Readonly<Record<Column, string>> = {
  ref: `cable ref; cable reference; cable no; cable nr; cable number; cable id; cable tag; cable tag no;
    cable tag number; cable mark; cable name; cable code; cable ident; cable identification; ref; reference;
    ref no; reference no; reference number; tag; tag no; tag number; cable; cables; cable designation no;
    kabel; kabelnr; kabelnummer; kabel nr; kabel no; kabelbezeichnung; kabelkennzeichen; kabelkennzeichnung;
    kabel id; kabelname; kabelreferenz; kabelkennung; bmk; betriebsmittelkennzeichen; kennzeichen; kabel kennzeichen;
    repere; repere cable; repere du cable; no cable; numero cable; n cable;
    reference cable; reference du cable; cable repere; identifiant; identifiant cable; nom du cable;
    referencia; referencia cable; referencia del cable; num cable; numero del cable; cable numero; id cable;
    identificacion; etiqueta; codigo cable; codigo de cable; codigo del cable; nombre del cable;
    kabelbeteckning; kabel id nr; kabelmarkning; beteckning; kabelref; kabelcode; kabelaanduiding; kabelmerk;
    kabelnaam; kabelreferentie; sigla; sigla cavo; cavo; n cavo; numero cavo; codice cavo; riferimento cavo;
    rif cavo; riferimento; identificativo; identificativo cavo; kabelmerking; kaapeli; kaapelitunnus; nr kabla;
    numer kabla; oznaczenie kabla; cabo; referencia do cabo; numero do cabo; kablo no; wire no; wire number;
    circuit cable no; ledning; ledningsnummer`,
  type: `type; cable type; cable description; description of cable; cable specification; cable spec; specification;
    designation; cable designation; cable size and type; type and size; type of cable; cable type and size;
    cable type size; cable size type; cable details; make up; cable make up; kabeltyp; typ; kabelart; bauart; kabelspezifikation; leitungstyp;
    type de cable; type cable; designation cable; designation du cable; nature du cable; tipo; tipo de cable; tipo cable;
    tipo di cavo; tipo cavo; designacion; designacion del cable; kabeltype; soort; soort kabel; type kabel; kabelsoort;
    formazione e tipo; kaapelityyppi; typ kabla; tipo de cabo; size and type; cable`,
  construction: `construction; cable construction; insulation; insulation type; armour; cable family; aufbau; konstruktion;
    isolierung; isolation; constitution; construccion; aislamiento; isolering; opbouw; costruzione; isolamento; armouring`,
  cores: `cores; no of cores; no cores; number of cores; core; core no; cores no; nr of cores; conductors; no of conductors;
    number of conductors; cores pairs; core count; core config; core configuration; adern; aderzahl; aderanzahl;
    anzahl adern; adernzahl; nombre de conducteurs; conducteurs; nb conducteurs; nb de conducteurs; nbre conducteurs; ames;
    conductores; num conductores; numero de conductores; n conductores; hilos; ledare; antal ledare; aders; aantal aders;
    conduttori; numero conduttori; n conduttori; formazione; pairs; no of pairs; fibres; no of fibres; number of fibres`,
  size: `size; cable size; csa; cross section; cross sectional area; conductor size; core size; conductor csa; conductor area;
    section; size csa; querschnitt; nennquerschnitt; leiterquerschnitt; aderquerschnitt; section conducteur; section des conducteurs;
    seccion; seccion conductor; area; tvarsnitt; ledararea; tvarsnittsarea; doorsnede; aderdoorsnede; sezione; sezione conduttore;
    awg; gauge; cores x size; no of cores x csa; number of cores x csa; number of cores x size; cores x area; cores x cross section; cores and size; cores size; no of cores and size; no of cores x size; cores x csa;
    aderzahl x querschnitt; adern x querschnitt; section cable; poikkipinta; przekroj; kerndoorsnede; conductor cross section`,
  diameter: `od; o d; diameter; dia; diam; outside diameter; outer diameter; overall diameter; external diameter; cable od;
    cable dia; cable diameter; cable outside diameter; cable outer diameter; cable overall diameter; overall dia; outside dia; outer dia;
    approx od; nominal od; nominal diameter; o a diameter; oa dia; aussendurchmesser; durchmesser; kabeldurchmesser; d aussen; da;
    aussen o; diametre; diametre exterieur; diametre ext; o ext; diam ext; diametre du cable; diametre cable; diametre hors tout;
    diametro; diametro exterior; diametro ext; diametro del cable; ytterdiameter; kabeldiameter; buitendiameter;
    uitwendige diameter; diametro esterno; diametro cavo; diametro est; halkaisija; srednica; diametro externo; o; o mm;
    average diameter; mean diameter; o aussen; o exterieur; o exterior; o esterno; o outer; outer o; o outside; outside o; aussend; ad`,
  smallestDiameter: `min od; minimum od; od min; min diameter; minimum diameter; diameter min; min dia; smallest od;
    smallest diameter; durchmesser min; min durchmesser; diametre min; diametro min; diameter minimum; minsta diameter`,
  largestDiameter: `max od; maximum od; od max; max diameter; maximum diameter; diameter max; max dia; largest od;
    largest diameter; durchmesser max; max durchmesser; diametre max; diametro max; diameter maximum; storsta diameter`,
  mass: `mass; weight; cable weight; cable mass; unit weight; gewicht; kabelgewicht; masse; poids; peso; vikt; massa`,
  from: `from; origin; source; start; from equipment; from location; from device; from panel; from board; supply from;
    fed from; starting point; from tag; end a; a end; end 1; from end; from point; from item; von; start von; quelle; anfang; ausgangspunkt;
    de; depart; origine; tenant; provenance; desde; origen; desde equipo; fran; franpunkt; van; van apparaat; da; partenza;
    from description; from designation; from plant; supplied from; feeder; von betriebsmittel; von anlage; von ort; von standort; z; skad; point a`,
  to: `to; destination; end; target; load; to equipment; to location; to device; to panel; to board; supply to; feeds;
    end point; to tag; end b; b end; end 2; to end; to point; to item; nach; ziel; bis; zu; ende; a; vers; arrivee; aboutissant; destino;
    hasta; hacia; a equipo; till; tillpunkt; naar; naar apparaat; arrivo; destinazione; to description; to designation;
    to plant; nach betriebsmittel; nach anlage; nach ort; nach standort; verbraucher; do; dokad; point b; serving; consumer`,
  fromRoom: `from room; room from; from area; from building; origin room; start room; source room; von raum; raum von;
    startraum; local depart; local origine; piece depart; sala origen; desde sala; local origen; fran rum; rum fran; van ruimte;
    ruimte van; locale partenza; da locale; from space; from zone; from level room; area from; from location room`,
  toRoom: `to room; room to; to area; to building; destination room; end room; target room; load room; nach raum; raum nach;
    zielraum; local arrivee; local destination; piece arrivee; sala destino; a sala; local destino; till rum; rum till;
    naar ruimte; ruimte naar; locale arrivo; a locale; to space; to zone; area to; to location room`,
  route: `route; cable route; routing; cable routing; via; path; cable path; containment; containment ref; containment route;
    tray; tray ref; trays; ducts; duct; duct ref; duct no; conduit; conduit no; conduit ref; raceway; raceways; way; penetration;
    opening; opening ref; penetration ref; seal ref; sleeve; kabelweg; trasse; trassen; kabeltrasse; verlegeweg; weg;
    cheminement; parcours; chemin de cable; chemins de cables; recorrido; ruta; trazado; bandeja; canalizacion; vag;
    kabelvag; forlaggning; forlaggningsvag; stege; kabelstege; trace; kabeltrace; kabelroute; percorso; passerella; canalina; tracciato;
    chemin de cables; penetration no; penetration number; sleeve no; sleeve ref; opening no; opening number; seal no; hole no;
    hole ref; wall penetration; floor penetration; durchbruch; durchbruch nr; durchfuhrung nr; paso; pasamuros; cable tray; cable trays; cable tray ref; cable tray no; cable ladder; cable ladders; ladder; ladders; ladder ref; tray no;
    tray section; trunking; cable trunking; cable basket; basket; cable duct; cable ducts; cable way; cableway; kabelrinne; kabelrinnen;
    kabelpritsche; kabelleiter; kabelkanal; leerrohr; leerrohre; trassen nr; trassennummer; kabelbahn; kabelbuhne; fourreau;
    fourreaux; gaine; gaines; goulotte; tubo; tubos; conducto; escalerilla; ror; kabelgoot; kabelladder; kabelbaan; buis; mantelbuis; tubazione;
    cavidotto; canale; caminho de cabos; eletroduto; trasa; trasa kabla; kaapelihylly; guzergah; carrier; carriers; carrier ref; routed via; route via; wall opening; durchfuhrung; traversee; reservation; route ref; transit`,
  circuit: `circuit; circuit kind; circuit type; service; cable service; duty; system; service type; function; usage; use; signal type;
    category; segregation; segregation class; class; stromkreisart; art; verwendung; funktion; systeme; fonction; nature;
    utilisation; sistema; funcion; servicio; funktionstyp; toepassing; functie; servizio; funzione; cable category; cable class; level class`,
  circuitRef: `circuit; stromkreis; circuit ref; circuit no; circuit number; circuit id; circuit reference; way no; stromkreis;
    stromkreisnr; stromkreis nr; stromkreisnummer; numero de circuit; n circuit; no circuit; no circuito; nr circuito; num circuito; obvod; krets; kretsnr; kring; kringnr; circuito; numero de circuito; n circuito;
    grupp; gruppnummer; groep; groepnummer; set; set no; parallel set`,
  phase: `phase; phases; ph; line; aussenleiter; leiter; fase; fasi; fas; phase colour`,
  current: `ac dc; current type; current kind; ac or dc; stromart; type de courant; tipo de corriente; stromtyp; stroomsoort;
    tipo di corrente; supply ac dc`,
  voltage: `voltage; rated voltage; nominal voltage; system voltage; voltage v; voltage kv; volt; volts; spannung; nennspannung; tension; tension nominale;
    tensione; spanning; spanning v; tension de service; voltage grade; voltage rating; v; kv`,
  status: `status; state; cable status; condition; existing new; new existing; existing or new; zustand; bestand; statut; etat; estado; stato; staat;
    installation status; bestand neu`,
  stage: `stage; phase of works; work phase; construction stage; works phase; construction phase; bauabschnitt; bauphase; etappe; tranche; etapa; etapp; fase di lavoro;
    installation stage; package; project stage; installation phase`,
  quantity: `quantity; qty; number off; no off; nr off; no of cables; number of cables; no of runs; parallel; runs; anzahl;
    anzahl kabel; menge; stuck; nombre; quantite; nb; nombre de cables; cantidad; antal; aantal; quantita; parallel cables; sets;
    number of runs; no of parallel cables; cables per phase; no in parallel; number in parallel`,
  remarks: `remarks; remark; comment; comments; note; notes; bemerkung; bemerkungen; anmerkung; anmerkungen; kommentar;
    remarque; remarques; observation; observations; commentaire; commentaires; observaciones; notas; comentarios;
    anmarkning; anmarkningar; opmerking; opmerkingen; osservazioni; commenti; nota; hinweis; hinweise`,
  length: `length; cable length; route length; length m; est length; estimated length; lange; kabellange; laenge; longueur;
    longueur m; longitud; langd; lengte; kabellengte; lunghezza; design length; approx length; total length`,
  item: `item; item no; no; nr; n; number; line; line no; pos; position; row; s no; sr no; sl no; lfd nr; lfd; lfdnr; laufende nummer;
    ligne; num; numero; item number; index; lopnr; volgnr; volgnummer; progressivo; numero d ordre`,
  other: `rev; revision; revised; index rev; rev no; issue; revision no; date; datum; fecha; data; drawing; drawing no;
    dwg; dwg no; document; document no; gland; gland size; gland type; load kw; kw; rated current; amps; a rating; power; protection;
    breaker; fuse; mcb; rating`,
};

/** Words that only join others: "no. of cores", "diámetro del cable". Alone, "de" means "from". */
const FILLERS = new Set(['of', 'the', 'de', 'del', 'du', 'des', 'der', 'di', 'dei', 'van', 'av']);

const COLUMN_OF_HEADING: ReadonlyMap<string, readonly Column[]> = invert();

function invert(): Map<string, readonly Column[]> {
  const found = new Map<string, Column[]>();
  for (const column of COLUMNS) {
    for (const heading of HEADINGS[column].split(';')) {
      const key = withoutFillers(heading.replace(/\s+/gu, ' ').trim());
      const columns = found.get(key);
      if (columns === undefined) found.set(key, [column]);
      else if (!columns.includes(column)) columns.push(column);
    }
  }
  return found;
}

/** Words of headings that say where a cable runs or how big it is, in any language known. */
const PLACING_WORDS: ReadonlySet<string> = placingWords();

function placingWords(): Set<string> {
  const wordsOf = (column: Column) => HEADINGS[column].split(/[\s;]+/u);
  const general = new Set([
    ...['cable', 'cables', 'conductor', 'conductors', 'conducteur', 'conducteurs', 'wall', 'over'],
    ...[
      'number',
      'with',
      'count',
      'config',
      'configuration',
      'nominal',
      'approx',
      'average',
      'mean',
    ],
    ...['caminho', 'cabos', 'kabla'],
  ]);
  const placing: readonly Column[] = ['route', 'diameter', 'largestDiameter', 'size', 'cores'];
  const named: readonly Column[] = ['ref', 'type', 'from', 'to', 'quantity'];
  const single = named.flatMap((column) =>
    HEADINGS[column]
      .split(';')
      .map((heading) => heading.trim())
      .filter((heading) => !heading.includes(' ')),
  );
  const words = [...placing.flatMap(wordsOf), ...single];
  return new Set(words.filter((word) => word.length > 3 && !general.has(word)));
}

/** A heading that is not known as a whole, but speaks of references, ends, routes or sizes. */
export function namesWhatPlaces(written: string): boolean {
  return plainHeading(written)
    .split(' ')
    .some((word) => PLACING_WORDS.has(word) || /^od$|^(?:kabel)?trasse/u.test(word));
}

const UNIT =
  /(?<![\p{L}\d])(mm2|mm²|mm|cm|inches|inch|in|m|kg\/m|kg\/km|lb\/ft|awg|kcmil)(?![\p{L}\d])/iu;

/** A heading in plain letters: lower case, no marks, no units, no brackets, no stops. */
export function plainHeading(written: string): string {
  return withoutMarks(written)
    .replace(/[[(<{][^\])>}]{0,30}[\])>}]/gu, ' ')
    .replace(/(?<![\p{L}\d])(?:in )?(?:mm2|mm|cm|inches|inch|kg\/k?m|sqmm)(?![\p{L}\d])/giu, ' ')
    .replace(/[^\p{L}\d]+/gu, ' ')
    .trim();
}

/** The unit a heading states, as written: `mm`, `in`, `kg/km` …; null where it states none. */
export function headingUnit(written: string): string | null {
  const bracketed = /[[(<{]([^\])>}]{1,30})[\])>}]/u.exec(written)?.[1];
  const found = (bracketed === undefined ? null : UNIT.exec(bracketed)) ?? UNIT.exec(written);
  const unit = found?.[1]?.toLowerCase().normalize('NFKC') ?? null;
  return unit ?? (/["″]/u.test(written) ? 'in' : null);
}

/** Columns a heading may name, likeliest first; empty when it is not known. */
export function columnsOfHeading(written: string): readonly Column[] {
  const plain = withoutFillers(plainHeading(written));
  const known = COLUMN_OF_HEADING.get(plain);
  if (known !== undefined) return known;
  // "Route 2", "Tray (3)": one of several.
  const counted = COLUMN_OF_HEADING.get(plain.replace(/ ?(?:no |nr )?\d{1,2}$/u, '')) ?? [];
  return counted[0] === 'route' ? ['route'] : [];
}

function withoutFillers(written: string): string {
  const plain = written.replace(/\bo d\b/gu, 'od').replace(/\bc s a\b/gu, 'csa');
  const words = plain.split(' ');
  if (words.length < 2) return plain;
  return [words[0], ...words.slice(1).filter((word) => !FILLERS.has(word))].join(' ');
}

function withoutMarks(written: string): string {
  return written
    .slice(0, 200)
    .replace(/[Øø⌀∅]/gu, ' o ')
    .replace(/ß/gu, 'ss')
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase();
}
