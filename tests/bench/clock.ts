/** How long something takes by the clock, in seconds. */
export async function seconds(act: () => Promise<unknown>): Promise<number> {
  const begun = performance.now();
  await act();
  return (performance.now() - begun) / 1000;
}
