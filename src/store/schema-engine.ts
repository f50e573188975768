import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { PrismaPg } from '@prisma/adapter-pg';
import {
  bindMigrationAwareSqlAdapterFactory,
  ColumnTypeEnum,
  type SqlMigrationAwareDriverAdapterFactory,
  type SqlQuery,
} from '@prisma/driver-adapter-utils';
import * as engine from '@prisma/schema-engine-wasm/schema_engine_bg';
import pg from 'pg';

/**
 * Gives `work` Prisma's schema engine as WebAssembly, on one database. The package's own entry point expects a
 * bundler; Node needs the module put together by hand, and once only: it keeps its state beside the instance.
 */
export async function withSchemaEngine<T>(url: string, work: (engine: engine.SchemaEngine) => Promise<T>): Promise<T> {
  instantiated ??= instantiate();
  await instantiated;
  const pool = new CatalogPool({ connectionString: url });
  const opened = await engine.SchemaEngine.new(
    { datamodels: undefined },
    () => {},
    bindMigrationAwareSqlAdapterFactory(catalogAdapter(pool)),
  );
  try {
    return await work(opened);
  } finally {
    opened.free();
    await pool.end();
  }
}

let instantiated: Promise<void> | null = null;

async function instantiate(): Promise<void> {
  const wasm = createRequire(import.meta.url)
    .resolve('@prisma/schema-engine-wasm/schema_engine_bg')
    .replace(/\.js$/, '.wasm');
  // `lib` has no DOM, where TypeScript keeps these declarations.
  const { WebAssembly } = globalThis as unknown as {
    WebAssembly: {
      instantiate(bytes: Uint8Array, imports: object): Promise<{ instance: { exports: { __wbindgen_start(): void } } }>;
    };
  };
  const { instance } = await WebAssembly.instantiate(await readFile(wasm), { './schema_engine_bg.js': { ...engine } });
  (engine as unknown as { __wbg_set_wasm(exports: unknown): void }).__wbg_set_wasm(instance.exports);
  instance.exports.__wbindgen_start();
  // A panic of the engine reports here; without it the report itself fails.
  Object.assign(globalThis, {
    PRISMA_WASM_PANIC_REGISTRY: { set_message: (message: string) => console.error(message) },
  });
}

/**
 * The engine reads a column of Postgres's one-byte type `"char"` from the list of constraints and expects a
 * character; the adapter knows no such scalar. It knows arrays of it, so the column passes through it as one.
 */
class CatalogPool extends pg.Pool {
  override query(...args: unknown[]): never {
    const answer = Reflect.apply(super.query, this, args) as Promise<pg.QueryArrayResult | pg.QueryArrayResult[]>;
    return answer.then((result) => {
      for (const field of [result].flat().flatMap(({ fields }) => fields))
        if (field.dataTypeID === oneByteType) field.dataTypeID = oneByteArrayType;
      return result;
    }) as never;
  }
}

const oneByteType = 18;
const oneByteArrayType = 1002;

function catalogAdapter(pool: CatalogPool): SqlMigrationAwareDriverAdapterFactory {
  const factory = new PrismaPg(pool);
  const connect = factory.connect.bind(factory);
  factory.connect = async () => {
    const adapter = await connect();
    const queryRaw = adapter.queryRaw.bind(adapter);
    adapter.queryRaw = async (query: SqlQuery) => {
      const result = await queryRaw(query);
      const columnTypes = result.columnTypes.map((type) =>
        type === ColumnTypeEnum.CharacterArray ? ColumnTypeEnum.Character : type,
      );
      return { ...result, columnTypes };
    };
    // Whole, as the engine's own driver sends it: the adapter would cut it at every semicolon, in comments too.
    adapter.executeScript = async (script: string) => {
      await pool.query(script);
    };
    return adapter;
  };
  return factory;
}
