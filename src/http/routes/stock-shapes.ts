/** Answers about what a distributor states of its shops, people, instruments and lots. */
import { z } from 'zod';
import { instrumentKinds } from '../../core/records/stock-bodies.ts';
import { count, pageOf, uuid } from './common-shapes.ts';
import { id, receipt } from './record-shapes.ts';

const version = count.meta({ description: 'Counted from 1: every statement that differs is a version' });
const stated = { id, version, receipt };
const describedAs = {
  description: 'The version in force, with the id and receipt that it got when it was first stated',
};
export const lotName = z.strictObject({ maker: z.string(), number: z.string() });

export const shopStated = z.strictObject({ ...stated, shop: z.string() }).meta({ id: 'ShopStated', ...describedAs });
export const technicianStated = z
  .strictObject({ ...stated, technician: z.string() })
  .meta({ id: 'TechnicianStated', ...describedAs });
export const instrumentStated = z
  .strictObject({ ...stated, instrument: z.string() })
  .meta({ id: 'InstrumentStated', ...describedAs });
export const lotStated = z.strictObject({ ...stated, lot: lotName }).meta({ id: 'LotStated', ...describedAs });
/** Of a list: `id` is the shop's own, `record` the fact. */
const listed = {
  id: z.string().meta({ description: "The shop's own id; of a lot MAKER/NUMBER" }),
  version,
  record: uuid.meta({ description: 'The fact that states this version' }),
};
const quantityAsSent = z
  .strictObject({ value: z.union([z.string(), z.number()]), unit: z.string() })
  .meta({ id: 'QuantityAsStated', description: 'As it was sent: text or number' });

const shop = z.looseObject({ ...listed, name: z.string() }).meta({ id: 'Shop' });
const technician = z
  .looseObject({
    ...listed,
    technician: uuid.meta({ description: 'The id by which records name this person' }),
    name: z.string().nullable().optional(),
    subject: z.string().nullable().optional(),
  })
  .meta({ id: 'Technician' });
const instrument = z
  .looseObject({
    ...listed,
    kind: z.enum(instrumentKinds),
    how: z.enum(['set', 'indicated']).optional(),
    range: z.strictObject({ min: quantityAsSent, max: quantityAsSent }).optional(),
    resolution: quantityAsSent.optional(),
    class: z.string().optional(),
    serial: z.string().optional(),
    shop: z.string().optional(),
  })
  .meta({ id: 'Instrument' });
const lot = z
  .looseObject({
    ...{ ...listed, part: z.string(), madeAt: z.unknown().optional() },
    ...{ components: z.unknown().optional(), withdrawn: z.unknown().optional() },
  })
  .meta({ id: 'Lot', description: 'As stated last' });
const own = 'Own ones in their current version, in the order of their ids';
export const stockPages = {
  shop: pageOf(shop, own),
  technician: pageOf(technician, own),
  instrument: pageOf(instrument, own),
  lot: pageOf(lot, own),
};
