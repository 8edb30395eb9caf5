// `npm run soak -- full-disk-minute`: a small disk goes from plenty to nothing within 40 s. Whoever is told must be told while
// there is room to write it down. Needs the right to mount.
import { setTimeout as wait } from "node:timers/promises";
import { newSite, startProcess } from "../acceptance/gateway-process.ts";
import { mountSmallDisk } from "./small-disk.ts";

const fillsInMs = 40_000;
const lookEveryMs = 200;

const disk = mountSmallDisk("320m");
process.env.TMPDIR = disk.place;
let isTold = false;
try {
  const gateway = await startProcess(await newSite(["press"]));
  const [fromMB, beganAtMs] = [disk.freeMB(), performance.now()];
  for (let ms = 0; ms < fillsInMs + 10_000 && !isTold; ms = performance.now() - beganAtMs) {
    disk.fillTo(Math.max(0, fromMB * (1 - ms / fillsInMs)));
    const { items } = await gateway.json<{ items: { key: string; priority: string }[] }>(
      "/api/alarms?standing=true",
    );
    const low = items.find(({ key, priority }) => key.startsWith("disk-low") && priority === "high");
    if (low) {
      isTold = disk.freeMB() > 0;
      const s = ((performance.now() - beganAtMs) / 1000).toFixed(1);
      console.log(
        `from ${fromMB.toFixed(0)} MB to nothing in 40 s: told after ${s} s, with ${disk.freeMB().toFixed(1)} MB left`,
      );
    }
    await wait(lookEveryMs);
  }
  if (!isTold) console.log("a disk that filled in 40 s was told of by nobody");
  disk.makeRoom();
  await gateway.stop();
} finally {
  disk.unmount();
}
console.log(isTold ? "1 passed, 0 failed" : "0 passed, 1 failed");
process.exit(isTold ? 0 : 1);
