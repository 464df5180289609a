/** Milliseconds for one call: the median of rounds, each of as many calls as fit the given time. */
export function timeOf(work: () => unknown, milliseconds = 300, rounds = 7): number {
  const warm = performance.now();
  while (performance.now() - warm < milliseconds) work();
  const figures = Array.from({ length: rounds }, () => {
    let calls = 0;
    const start = performance.now();
    while (performance.now() - start < milliseconds) {
      work();
      calls += 1;
    }
    return (performance.now() - start) / calls;
  });
  return figures.sort((a, b) => a - b)[Math.floor(rounds / 2)] ?? Number.NaN;
}
