/** What the things of an edition are called, on the demo edition. */
import { describe, expect, it } from 'vitest';
import { namesIn } from '../../../src/core/catalogue/names.ts';
import { demoWith } from '../../support/bench/demo-job.ts';

describe('a station, where it is not said on which body', () => {
  it('is called what all bodies that have it call it', () => {
    expect(namesIn(demoWith({}), 'en').station('signal-port')).toEqual({ text: 'signal port', lang: 'en' });
  });

  it('is called by its id where they do not agree, or none has it', () => {
    const edition = demoWith({ '/bodies/1/stations/10/text': 'signal port, on the ramp' });
    expect(namesIn(edition, 'en').station('signal-port')).toEqual({ text: 'signal-port', lang: 'en' });
    expect(namesIn(edition, 'en').station('nowhere')).toEqual({ text: 'nowhere', lang: 'en' });
  });

  it('of a pump is called what all sizes that have it call it, and is none of a body', () => {
    const names = namesIn(demoWith({}), 'en');
    expect(names.station('pump/linkage')).toEqual({ text: 'torque link between cradle and control', lang: 'en' });
    expect(names.station('linkage').text).toBe('linkage');
    expect(names.station('pump/side-cap').text).toBe('pump/side-cap');
    const edition = demoWith({ '/series/0/sizes/1/stations/2/text': 'torque link of size 83' });
    expect(namesIn(edition, 'en').station('pump/linkage').text).toBe('pump/linkage');
  });

  it("is called in the reader's language where the edition has words in it", () => {
    expect(namesIn(demoWith({}), 'de').station('side-cap')).toEqual({ text: 'Seitenkappe', lang: 'de' });
    expect(namesIn(demoWith({}), 'nl').station('side-cap')).toEqual({ text: 'cap on the left side', lang: 'en' });
  });
});
