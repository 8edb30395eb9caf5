const patienceMs = 1000;

/** A broker that hangs must not keep the gateway from stopping. */
export async function soon(work: Promise<unknown>): Promise<void> {
  let timer: NodeJS.Timeout | undefined;
  const patience = new Promise<void>((resolve) => {
    timer = setTimeout(resolve, patienceMs);
  });
  await Promise.race([work.catch(() => {}), patience]);
  clearTimeout(timer);
}
