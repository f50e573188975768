/** Which requests of a batch are decided together. By our own design; no published source. */
import { v7 } from 'uuid';
import { describe, expect, it } from 'vitest';
import type { Asked, Request } from '../../src/app/recording/request.ts';
import { rounds } from '../../src/app/recording/rounds.ts';
import { controlRegistration, inspectionBody, mountingBody } from '../../src/core/records/bodies.ts';
import { controlBody, inspectionOf } from '../support/shop.ts';

const owner = v7();
const request = (asked: Asked, key: string | null = null) =>
  ({ ...asked, owner, client: 'c', subject: 's', sent: {}, route: '', key, fact: v7(), checkOnly: false }) as Request;
const performedAt = '2026-04-01T08:00:00Z';
const register = (serial: string) => {
  const body = controlRegistration.parse(controlBody('load-sense'));
  return request({ kind: 'registration', of: 'control', maker: 'ardenholm', serial: `K-${serial}`, body });
};
const inspect = (serial: string, reference: string, key: string | null = null, named: object = {}) => {
  const body = inspectionBody.parse({ ...inspectionOf(serial, { reference, performedAt }), ...named });
  return request({ kind: 'inspection', body }, key);
};
const shop = (id: string) => request({ kind: 'shop', id, body: { name: id } });
const takeOff = (pump: string, tag: string, reference: string) => {
  const frame = { reference, performedAt, edition: '2026-1', shop: 'north', technician: 't-17' };
  const body = mountingBody.parse({ ...frame, pump: { maker: 'ardenholm', serial: pump }, on: false, tag });
  return request({ kind: 'mounting', body });
};
/** For every request the round it is in. */
const placed = (...requests: Request[]) => {
  const all = rounds(requests);
  expect(all.flat()).toHaveLength(requests.length);
  return requests.map((one) => all.findIndex((round) => round.includes(one)));
};

describe('requests of a batch', () => {
  it('that have nothing to do with each other are decided together', () => {
    expect(placed(inspect('1', 'a'), inspect('2', 'b'), register('3'), shop('south'))).toEqual([0, 0, 0, 0]);
  });

  it('that publish for one maker are held against each other, and work that comes after is judged by what they say', () => {
    const publish = (maker: string) => request({ kind: 'edition', maker, edition: v7() } as unknown as Asked);
    expect(
      placed(inspect('1', 'a'), publish('ardenholm'), publish('ardenholm'), publish('other'), inspect('2', 'b')),
    ).toEqual([0, 0, 1, 0, 2]);
  });

  it('that share a key or a reference meet one after the other', () => {
    expect(placed(inspect('1', 'a', 'k'), inspect('2', 'b', 'k'), inspect('3', 'a'))).toEqual([0, 1, 1]);
  });

  it('on a unit that another registers come after it, and in order', () => {
    expect(placed(register('1'), inspect('1', 'a'), inspect('1', 'b'), inspect('2', 'c'))).toEqual([0, 1, 1, 0]);
    expect(placed(inspect('1', 'a'), register('1'), inspect('1', 'b'))).toEqual([0, 0, 1]);
  });

  it('on a unit keep their order where one of them has to wait', () => {
    expect(placed(inspect('1', 'a'), inspect('2', 'a'), inspect('2', 'b'))).toEqual([0, 1, 1]);
  });

  it('that use a shop come after the one that states it; those that only use it wait for nobody', () => {
    expect(placed(shop('north'), inspect('1', 'a'), shop('north'), inspect('2', 'b'))).toEqual([0, 1, 1, 2]);
    const chains = ['1', '2', '3', '4'].flatMap((serial) => [register(serial), inspect(serial, serial)]);
    expect(Math.max(...placed(...chains))).toBe(1);
  });

  it('that name a control by a tag come after the one that gives it', () => {
    const tagged = inspect('1', 'b', null, { control: { maker: 'ardenholm', tag: 'T-9' } });
    expect(placed(takeOff('P-1', 'T-9', 'a'), tagged, takeOff('P-2', 'T-9', 'c'))).toEqual([0, 1, 1]);
  });
});
