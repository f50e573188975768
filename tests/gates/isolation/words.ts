/**
 * Words that give away whose something is, and the watch that looks for them. Each distributor plants two stems: one in
 * what the maker's people may read of a record, one in what is its own alone.
 */
import { formsOf, type Schema } from '../described-operations.ts';

export type Party = 'brackwater' | 'tollan';
export const stems = {
  brackwater: { open: 'quillfen', kept: 'quillmoss' },
  tollan: { open: 'tarnfen', kept: 'tarnmoss' },
  analyst: { open: 'heronfen', kept: 'heronmoss' },
  /** Said to every distributor: whoever has the unit must read it, or the terms are for all. */
  anybody: { open: 'larkfen', kept: 'larkfen' },
} as const;
export type Voice = keyof typeof stems;

/** Members that no one but their distributor reads, as far as they are free text or ids of its own people. */
const keptMembers = new Set([
  'name',
  'subject',
  'technician',
  'by',
  'note',
  'givenBy',
  'machine',
  'acceptedBy',
  'from',
  'to',
  'class',
]);
/** Free text that names a unit, a part or a document, or is a code, and so must stay as it is. */
const naming = new Set(['serial', 'tag', 'number', 'lot', 'sheet', 'voltage', 'cleanliness']);

/** What a claim says it says to the maker; but people stay the distributor's own. */
const toldInClaims = new Set(['note', 'machine']);

export function stemFor(party: Voice, member: string, toMaker = false): string {
  if (member === 'instruction') return stems.anybody.open;
  const isKept = keptMembers.has(member) && !(toMaker && toldInClaims.has(member));
  return isKept ? stems[party].kept : stems[party].open;
}

let planted = 0;

/**
 * The body with a word of the party in every member that is free text by its schema, whether it was there or not.
 * `toMaker`: the maker's people are told it.
 */
export function plantIn(body: unknown, schema: Schema, party: Voice, toMaker: boolean): unknown {
  if (Array.isArray(body)) {
    const items = formsOf(schema).find((form) => form.type === 'array')?.items;
    return items === undefined ? body : body.map((one) => plantIn(one, items, party, toMaker));
  }
  if (typeof body !== 'object' || body === null) return body;
  const form = formThatFits(body, schema);
  if (form === undefined) return body;
  const named = Object.entries(form.properties ?? {});
  const free = named.filter(([member, one]) => !naming.has(member) && isFreeText(one));
  const texts = free.flatMap(([member]) => {
    const before = (body as Record<string, unknown>)[member];
    // What is stated as an object or an id of a list, where free text could stand, stays so.
    if (typeof before === 'object' && before !== null) return [];
    return [[member, word(party, member, toMaker)] as const];
  });
  const others = Object.entries(body).map(([member, value]) => {
    const inside =
      form.properties?.[member] ??
      (typeof form.additionalProperties === 'object' ? form.additionalProperties : undefined);
    return [member, inside === undefined ? value : plantIn(value, inside, party, toMaker)] as const;
  });
  return { ...Object.fromEntries(others), ...Object.fromEntries(texts) };
}

/** Such as `quillfen-reason-17`: no two are the same, so what a request names itself can be told from a leak. */
export function word(party: Voice, member: string, toMaker = false): string {
  planted += 1;
  return `${stemFor(party, member, toMaker)}-${member}-${planted}`;
}

/** Free text: a form that takes any text. */
export function isFreeText(schema: Schema): boolean {
  return formsOf(schema).some(
    (form) =>
      form.type === 'string' && [form.pattern, form.format, form.enum, form.const].every((one) => one === undefined),
  );
}

function formThatFits(body: object, schema: Schema): Schema | undefined {
  const forms = formsOf(schema).filter((form) => form.type === 'object');
  const fits = (form: Schema) =>
    Object.entries(form.properties ?? {}).every(
      ([member, { const: only }]) => only === undefined || (body as Record<string, unknown>)[member] === only,
    ) &&
    (form.required ?? []).every((member) => member in body) &&
    (form.additionalProperties !== false || Object.keys(body).every((member) => member in (form.properties ?? {})));
  return forms.length === 1 ? forms[0] : forms.find(fits);
}

export type Asking = { readonly who: Party | 'analyst' | 'other-maker'; readonly what: string };

const alien: Readonly<Record<Asking['who'], readonly string[]>> = {
  brackwater: [...Object.values(stems.tollan), ...Object.values(stems.analyst)],
  tollan: [...Object.values(stems.brackwater), ...Object.values(stems.analyst)],
  analyst: [stems.brackwater.kept, stems.tollan.kept],
  'other-maker': Object.values(stems).flatMap((one) => Object.values(one)),
};
const everyStem = alien['other-maker'];
const tokens = /(?:quill|tarn|heron|lark)(?:fen|moss)(?:[\w.:-]*\w)?/gi;
const uuids = /[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}/g;

/** Looks at everything that comes out of the service. */
export class Watch {
  readonly leaks: string[] = [];
  answers = 0;
  /** Ids of the service's making that each asker was told and had not named itself. */
  readonly told = new Map<Asking['who'], Set<string>>();
  /** What each asker has named itself, of words and ids: its own refused bodies give it back. */
  readonly #named = new Map<Asking['who'], Set<string>>();

  /** Before it is answered, if ever: what a caller that hung up has named is kept as tried, too. */
  noteSent(who: Asking['who'], sent: string): void {
    const named = setOf(this.#named, who);
    const request = decoded(sent).toLowerCase();
    for (const [one] of [...request.matchAll(tokens), ...request.matchAll(uuids)]) named.add(one);
  }

  look({ who, what }: Asking, answer: string): void {
    this.answers += 1;
    const named = setOf(this.#named, who);
    const lower = answer.toLowerCase();
    if (alien[who].some((stem) => lower.includes(stem))) {
      for (const { 0: token, index } of lower.matchAll(tokens)) {
        if (alien[who].some((stem) => token.startsWith(stem)) && !named.has(token))
          this.leaks.push(`${who}, ${what}: ${token} in …${answer.slice(Math.max(0, index - 150), index + 80)}…`);
      }
    }
    const seen = setOf(this.told, who);
    for (const [id] of lower.matchAll(uuids)) if (!named.has(id)) seen.add(id);
  }

  /** A log holds nobody's words. */
  lookAtLog(text: string): number {
    const lines = text.split('\n').filter((line) => line !== '');
    for (const line of lines) {
      const lower = line.toLowerCase();
      if (everyStem.some((stem) => lower.includes(stem))) this.leaks.push(`log: ${line.slice(0, 200)}`);
    }
    return lines.length;
  }
}

function setOf(sets: Map<Asking['who'], Set<string>>, who: Asking['who']): Set<string> {
  const set = sets.get(who) ?? new Set();
  sets.set(who, set);
  return set;
}

function decoded(text: string): string {
  try {
    return `${text} ${decodeURIComponent(text)}`;
  } catch {
    return text;
  }
}
