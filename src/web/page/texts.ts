import { GERMAN } from './texts-de.ts';
import { ENGLISH, type Texts } from './texts-en.ts';

export type Language = 'en' | 'de';

const LANGUAGES: Readonly<Record<Language, Texts>> = { en: ENGLISH, de: GERMAN };

let current: Texts = ENGLISH;

export function setLanguage(language: Language): void {
  current = LANGUAGES[language];
  document.documentElement.lang = language;
}

/** The words in the language that was chosen last. */
export function words(): Texts {
  return current;
}

/** A verdict in the language of the page; marks make it readable without colour. */
export function verdictWord(verdict: string): string {
  return current.verdicts[verdict] ?? verdict;
}
