import { fillIn, type Translated, type Values } from "@drumlin/gateway/words/form";
import { computed, effect, signal } from "@preact/signals";
import { settings } from "../data/settings.ts";
import * as en from "./en/index.ts";

type All = Translated<typeof en>;

/**
 * Everything that the page says, in one language. Causes and consequences of conditions are not in its build; what to do
 * comes with each alarm in English, and stands here in another language.
 */
export type Words = Omit<All, "conditions"> & {
  readonly conditions: {
    readonly [Id in keyof All["conditions"]]: Pick<All["conditions"][Id], "title" | "headline"> &
      Partial<Pick<All["conditions"][Id], "response" | "after">>;
  };
};

/** Languages that the page has, as BCP 47 tags. */
type Language = "en" | "de";

/** The language that is wanted: chosen on this device, else the browser's first one that the page has. */
const wanted = computed<Language>(() => {
  const { language } = settings.value;
  if (language !== "auto") return language;
  for (const tag of navigator.languages) {
    const base = tag.split("-")[0]?.toLowerCase();
    if (base === "de" || base === "en") return base;
  }
  return "en";
});

const words = signal<{ readonly language: Language; readonly said: Words }>({ language: "en", said: en });

/** The language that the page speaks now: what is wanted, once its words are here. */
export const language = computed(() => words.value.language);

/** Words by area and name, in the language of now; read while something is drawn, so that it is drawn again with another. */
export const w: Words = new Proxy(en as Words, {
  get: (_, area) => words.value.said[area as keyof Words],
});

/** A word with its braces filled. */
export const say = (template: string, values: Values): string => fillIn(template, values);

/** A counting word for a number: "1 fill", "2 fills". */
export function count(
  forms: { readonly one: string; readonly other: string },
  number: number,
  values: Values = {},
): string {
  const form = new Intl.PluralRules(language.value).select(number) === "one" ? forms.one : forms.other;
  return fillIn(form, { count: number, ...values });
}

async function put(next: Language): Promise<void> {
  if (next === "de") {
    try {
      const de = await import("./de/index.ts");
      if (wanted.value === next) words.value = { language: next, said: de };
    } catch {
      // It could not be had: the page goes on as it is.
    }
  } else words.value = { language: "en", said: en };
}

let putting: Promise<void> = Promise.resolve();

/** Puts the wanted language on the page, now and whenever another is chosen. */
export function startWords(): void {
  effect(() => {
    putting = put(wanted.value);
  });
}

/** Resolves when the words of the language that is wanted now are here, or can't be had. */
export const wordsHere = (): Promise<void> => putting;
