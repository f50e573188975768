/**
 * The service's own words in the steps of a job sheet, by language. `{…}` is filled with the edition's words and
 * values. A language is added by adding its frames here; an edition's own texts may be in more languages than these.
 */
export type Frames = Readonly<Record<keyof typeof english, string>>;

export const frameLanguages = ['en', 'de'] as const;

/** The frames in a language, and which one they are in: English where there are none. */
export function framesIn(language: string): { readonly frames: Frames; readonly lang: string } {
  return language === 'de' ? { frames: german, lang: 'de' } : { frames: english, lang: 'en' };
}

const english = {
  makeSafe: 'Make safe: drive locked out, loads lowered or blocked, pressure relieved and zero pressure verified.',
  mount: 'Put the control on the pump.',
  at: '{station}: {what}.',
  alone: '{what}.',
  look: 'look what is in it and note it; it is not known for sure',
  open: 'open {joint} ({tool})',
  /** Whether a locknut was left open when the control was worked on before is not known. */
  openLocknut: 'open {joint} ({tool}), if it is not open already',
  takeAside: 'take out {elements} and lay it aside; it goes back',
  takeOut: 'take out {elements}; it stays out',
  putIn: 'put in {elements}',
  putBack: 'put back {elements}',
  close: 'close {joint}, {torque} ({details})',
  lock: 'lock: close {joint}, {torque} ({details})',
  backOff: 'back off the adjuster of {setting}',
  set: 'set {setting} ({details})',
  reRead: 'read {setting} again; locking shifts it',
  read: 'read {setting} ({details})',
  check: 'check: {check}',
  mark: 'mark: {check}',
  whatever: 'whatever is there',
  newSeals: 'new seals: {seals}',
  threadLock: 'thread lock: {lock}',
  atLeast: 'at least {value}',
  atMost: 'at most {value}',
  given: 'with {name} {value}',
  rising: 'approached from below',
  falling: 'approached from above',
  before: 'before: {requires}',
  to: '{min} to {max}',
  further: '{torque}, then {angle} further',
};

const german: Frames = {
  makeSafe:
    'Sicher machen: Antrieb gegen Einschalten gesichert, Lasten abgesenkt oder abgestützt, Druck abgelassen und auf null geprüft.',
  mount: 'Den Regler auf die Pumpe setzen.',
  at: '{station}: {what}.',
  alone: '{what}.',
  look: 'nachsehen, was darin ist, und notieren; es ist nicht sicher bekannt',
  open: '{joint} öffnen ({tool})',
  openLocknut: '{joint} öffnen ({tool}), falls nicht schon offen',
  takeAside: 'herausnehmen und beiseitelegen, kommt wieder hinein: {elements}',
  takeOut: 'herausnehmen, bleibt draußen: {elements}',
  putIn: 'einsetzen: {elements}',
  putBack: 'wieder einsetzen: {elements}',
  close: '{joint} schließen, {torque} ({details})',
  lock: 'kontern: {joint} schließen, {torque} ({details})',
  backOff: 'zurückdrehen, Einsteller für: {setting}',
  set: 'einstellen: {setting} ({details})',
  reRead: 'noch einmal ablesen: {setting}; das Kontern verschiebt den Wert',
  read: 'ablesen: {setting} ({details})',
  check: 'prüfen: {check}',
  mark: 'kennzeichnen: {check}',
  whatever: 'was immer darin ist',
  newSeals: 'neue Dichtungen: {seals}',
  threadLock: 'Schraubensicherung: {lock}',
  atLeast: 'mindestens {value}',
  atMost: 'höchstens {value}',
  given: 'bei {name} {value}',
  rising: 'von unten angefahren',
  falling: 'von oben angefahren',
  before: 'vorher: {requires}',
  to: '{min} bis {max}',
  further: '{torque}, dann {angle} weiter',
};
