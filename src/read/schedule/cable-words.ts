import type { CableStatus, CircuitKind } from '../../model/cable.ts';

/** Whole words or phrases, so that "data" in "database server" does not count. */
function anyOf(words: string): RegExp {
  const parts = words
    .split(';')
    .map((word) => word.trim().replace(/[.*+?^${}()|[\]\\]/gu, '\\$&'))
    .join('|');
  return new RegExp(String.raw`(?<![\p{L}\d])(?:${parts})(?![\p{L}\d])`, 'iu');
}

const STATUS_WORDS: readonly (readonly [CableStatus, RegExp])[] = [
  [
    'to be removed',
    anyOf(
      'to be removed;remove;removed;removal;redundant;demolish;demolished;strip out;stripped out;' +
        'disconnect;to be disconnected;decommission;decommissioned;abandon;abandoned;obsolete;' +
        'entfällt;demontage;rückbau;zu entfernen;à déposer;déposé;supprimé;retirar;eliminar;rivs;utgår;' +
        'te verwijderen;vervalt;da rimuovere;deleted;delete',
    ),
  ],
  [
    'future',
    anyOf(
      'future;provision;provisional;spare;reserve;later;planned;zukünftig;künftig;futur;future use;réserve;futuro;' +
        'reserva;framtida;reserv;toekomstig;riserva;not yet',
    ),
  ],
  [
    'existing',
    anyOf(
      'existing;exist;exst;ex;e;retained;in place;bestand;bestehend;vorhanden;existant;existante;existente;' +
        'befintlig;bef;bestaand;esistente;installed;to remain',
    ),
  ],
  [
    'now',
    anyOf(
      'new;now;proposed;n;neu;nouveau;nouvelle;neuf;nuevo;nueva;ny;nytt;nieuw;nuovo;this stage;to be installed;install;active',
    ),
  ],
];

/** Status of a cable from its column; null for words that say nothing about it. */
export function statusOf(text: string): CableStatus | null {
  return STATUS_WORDS.find(([, words]) => words.test(text))?.[0] ?? null;
}

const CIRCUIT_WORDS: readonly (readonly [CircuitKind, RegExp])[] = [
  [
    'fire alarm',
    anyOf(
      'fire alarm;fa;fire detection;bma;brandmelde;brandmeldeanlage;ssi;incendie;brandlarm;brandmeld;allarme incendio',
    ),
  ],
  [
    'fibre',
    anyOf('fibre;fiber;fo;optic;optical;lwl;glasfaser;fibre optique;fibra;glasvezel;fibra ottica'),
  ],
  [
    'earth',
    anyOf(
      'earth;earthing;bonding;ground;grounding;pe;erde;erdung;potentialausgleich;terre;tierra;jord;aarde;aarding;terra',
    ),
  ],
  [
    'data',
    anyOf(
      'data;network;lan;ethernet;comms;communication;telecom;telephone;it;bus;fieldbus;daten;netzwerk;données;réseau;datos;red;dati;rete;tele;cat5e;cat6;cat6a;cat7;extra low voltage;elv',
    ),
  ],
  [
    'control',
    anyOf(
      'control;instrument;instrumentation;signal;c&i;i&c;interlock;monitoring;steuerung;steuer;messung;mess;commande;contrôle;instrumentación;mando;styr;sturing;besturing;comando;segnale;regelung;msr',
    ),
  ],
  [
    'HV',
    anyOf(
      'hv;mv;high voltage;medium voltage;ms;hochspannung;mittelspannung;haute tension;ht;hta;alta tensión;media tensión;högspänning;hoogspanning;middenspanning;alta tensione;media tensione',
    ),
  ],
  [
    'LV',
    anyOf(
      'lv;power;low voltage;lighting;small power;supply;mains;bt;niederspannung;leistung;basse tension;puissance;fuerza;baja tensión;lågspänning;kraft;laagspanning;voeding;bassa tensione;potenza;licht;éclairage',
    ),
  ],
];

/** Kind of circuit from words of a column; null where they name none. */
export function circuitOf(text: string): CircuitKind | null {
  return CIRCUIT_WORDS.find(([, words]) => words.test(text))?.[0] ?? null;
}

/** LV up to 1,000 V AC, HV above (IEC 61140, from memory); null where no voltage is read. */
export function circuitOfVoltage(text: string): CircuitKind | null {
  const volts = largestVolts(text);
  if (volts === null) return null;
  return volts > 1000 ? 'HV' : 'LV';
}

function largestVolts(text: string): number | null {
  let largest: number | null = null;
  for (const [, number, kilo] of text
    .slice(0, 200)
    .matchAll(/(\d{1,6}(?:[.,]\d{1,3})?) ?(k?)(?:V(?: ?[AD]C)?)?(?![\p{L}\d])/giu)) {
    // "0.6/1 kV": the unit stands behind the last number and holds for both.
    const isKilo = kilo !== '' || /\d ?kV/iu.test(text);
    const volts = Number(number?.replace(',', '.')) * (isKilo ? 1000 : 1);
    if (Number.isFinite(volts)) largest = Math.max(largest ?? 0, volts);
  }
  return largest;
}

/** AC or DC from words or a voltage text; null where neither is said. */
export function currentOf(text: string): 'AC' | 'DC' | null {
  const isDc = /(?<!\p{L})(?:d\.?c\.?|vdc|gleichstrom|courant continu|⎓)(?!\p{L})/iu.test(text);
  const isAc = /(?<!\p{L})(?:a\.?c\.?|vac|wechselstrom|drehstrom|~)(?!\p{L})/iu.test(text);
  if (isDc === isAc) return null;
  return isDc ? 'DC' : 'AC';
}

const TOTAL = anyOf(
  'total;totals;subtotal;sub-total;sum;summe;gesamt;gesamtsumme;zwischensumme;totaux;somme;suma;totale;totaal;summa;end of schedule;end of list;number of cables;no. of cables;total cables;anzahl kabel;nombre de câbles;número de cables;antal kablar;aantal kabels;numero cavi',
);

/** A row that only adds up. */
export function isTotal(text: string): boolean {
  return TOTAL.test(text.slice(0, 60));
}

/** A cell that repeats the one above: `"`, `do.`, `ditto`, `idem`. */
export function isDitto(text: string): boolean {
  return /^(?:["″”“]|''|-"-|-''-|ditto|do\.|dto\.?|idem|id\.|dito|desgl\.?)$/iu.test(text);
}

/** A conductor of its own beside the cable: a row of the schedule has room for one diameter only. */
export function alongsideText(written: string): string {
  const size = /\d/u.test(written) ? 'its diameter' : 'its size';
  return `“${written}” is a separate conductor laid along with it and is not counted here: ${size} is not given; give it a row of its own.`;
}
