/**
 * What follows from an object alone, made when it is first asked for and kept as long as the object lives. For objects
 * that never change: an edition and whatever is in it, a case.
 */
export function onceFor<Of extends object, Made>(make: (of: Of) => Made): (of: Of) => Made {
  const made = new WeakMap<Of, Made>();
  return (of) => {
    let known = made.get(of);
    if (known === undefined) {
      known = make(of);
      made.set(of, known);
    }
    return known;
  };
}
