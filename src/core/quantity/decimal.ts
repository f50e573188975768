/** Numbers as people write them. */

/** The shortest decimal that reads back as this number, without an exponent: 1e-7 → "0.0000001", -0 → "0". */
export function decimalOf(finite: number): string {
  const text = String(finite);
  const [mantissa = '', exponent] = text.split('e');
  if (exponent === undefined) return text;
  const sign = mantissa.startsWith('-') ? '-' : '';
  const [whole = '', part = ''] = mantissa.replace('-', '').split('.');
  const shift = Number(exponent);
  return shift < 0
    ? `${sign}0.${'0'.repeat(-shift - 1)}${whole}${part}`
    : `${sign}${whole}${part}${'0'.repeat(shift - part.length)}`;
}
