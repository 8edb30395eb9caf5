import { PartFailed } from "@drumlin/gateway/app";
import { expect, it } from "vitest";

const system = (fields: object) => Object.assign(new Error("raw"), fields);

it.each([
  [
    { code: "EADDRINUSE", syscall: "listen", address: "::", port: 1883 },
    ":::1883 is taken by another program. End that one, or choose another port.",
  ],
  [
    { code: "EADDRNOTAVAIL", syscall: "listen", address: "10.0.0.9" },
    "This machine has no address 10.0.0.9. Choose one that it has, or 0.0.0.0 for all.",
  ],
  [
    { code: "EACCES", syscall: "listen", address: "0.0.0.0", port: 80 },
    "0.0.0.0:80 can't be listened on without more rights. Choose a port from 1024 on.",
  ],
  [
    { code: "EROFS", syscall: "open", path: "/data/lock" },
    "/data/lock can't be written. Look at its owner and its rights.",
  ],
  [{ code: "ENOSPC", syscall: "write", path: "/data/x" }, "There is no room on the disk of /data/x."],
  [{ code: "EIO", syscall: "read", path: "/data/x" }, "raw"],
])("%j in plain words", (fields, words) => {
  expect(new PartFailed("MQTT", system(fields)).message).toBe(`MQTT: ${words}`);
});
