/**
 * Loading by arrays: what the resolvers of one level ask for one by one is fetched together, each key once a request.
 * However many items a level has, it costs as many statements as one.
 */

/**
 * Gives a loader of one request. `load` answers in the order of its keys; an answer that is an Error is thrown to whoever
 * asked for that key alone.
 */
export function batched<Key, Value>(
  keyText: (key: Key) => string,
  load: (keys: readonly Key[]) => Promise<readonly (Value | Error)[]>,
): Loader<Key, Value> {
  const known = new Map<string, Promise<Value>>();
  const waiting: Waiting<Key, Value>[] = [];
  const ask = (key: Key) => {
    const text = keyText(key);
    const before = known.get(text);
    if (before !== undefined) return before;
    const answer = new Promise<Value>((resolve, reject) => {
      // After all that is ready to run: by then every resolver of the level has asked.
      if (waiting.length === 0) setImmediate(() => void answerAll(waiting.splice(0), load));
      waiting.push({ key, resolve, reject });
    });
    known.set(text, answer);
    return answer;
  };
  return Object.assign(ask, {
    tell: (key: Key, value: Value) => {
      const text = keyText(key);
      if (!known.has(text)) known.set(text, Promise.resolve(value));
    },
  });
}

export type Loader<Key, Value> = {
  (key: Key): Promise<Value>;
  /** What was read with something else needn't be asked for. */
  readonly tell: (key: Key, value: Value) => void;
};

type Waiting<Key, Value> = {
  readonly key: Key;
  readonly resolve: (value: Value) => void;
  readonly reject: (error: unknown) => void;
};

async function answerAll<Key, Value>(
  asked: readonly Waiting<Key, Value>[],
  load: (keys: readonly Key[]) => Promise<readonly (Value | Error)[]>,
): Promise<void> {
  try {
    const answers = await load(asked.map(({ key }) => key));
    asked.forEach(({ resolve, reject }, index) => {
      const answer = answers[index];
      if (answer instanceof Error) reject(answer);
      else if (index < answers.length) resolve(answer as Value);
      else reject(new Error('a batch answered fewer keys than it was asked for'));
    });
  } catch (error) {
    for (const { reject } of asked) reject(error);
  }
}
