/** XML as it comes, piece by piece: no entity but the five of XML itself is known, so none can grow. */
import type { Readable } from 'node:stream';
import sax from 'sax';
import { UnreadableError } from '../table.ts';

export type XmlHandlers = {
  /** Names without their prefix. */
  readonly open: (name: string, attributes: Readonly<Record<string, string>>) => void;
  readonly close: (name: string) => void;
  readonly text: (text: string) => void;
};

/** Feeds a stream to the handlers; after each piece it gives its turn back, so that what was gathered can be handed on. */
export async function* xmlPieces(
  stream: Readable,
  { open, close, text }: XmlHandlers,
): AsyncGenerator<void, void, undefined> {
  const parser = sax.parser(true, { xmlns: false, position: false });
  parser.onopentag = ({ name, attributes }) =>
    open(
      local(name),
      Object.fromEntries(Object.entries(attributes).map(([attribute, value]) => [local(attribute), String(value)])),
    );
  parser.onclosetag = (name) => close(local(name));
  parser.ontext = text;
  parser.oncdata = text;
  parser.ondoctype = () => {
    throw new UnreadableError('The spreadsheet holds a document type, which none of its kind has: save it anew.');
  };
  parser.onerror = (error) => {
    throw new UnreadableError(`The spreadsheet's XML is broken (${error.message.split('\n')[0]}): save it anew.`);
  };
  const decoder = new TextDecoder('utf-8', { fatal: true });
  for await (const chunk of stream as AsyncIterable<Buffer>) {
    parser.write(decoder.decode(chunk, { stream: true }));
    yield;
  }
  parser.close();
  yield;
}

/** To the end, for what is gathered whole. */
export async function readXml(stream: Readable, handlers: XmlHandlers): Promise<void> {
  for await (const _ of xmlPieces(stream, handlers));
}

function local(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}
