import { Writable } from "node:stream";
import type { MqttClient } from "mqtt";
import type { FastLane } from "./fast-lane.ts";

type Connection = MqttClient["stream"];

/** Bytes that may wait before the lane: four times what a socket gives at once. */
const waitingBytes = 256 * 1024;

/**
 * Puts a lane between a connection and MQTT.js, whose only way to read is one `pipe`. What the lane leaves is given on, and
 * nothing behind it is looked at before MQTT.js is done with it: so everything is taken in the order in which it came. After
 * each piece `room` is asked: null, or what is waited for, while TCP holds the broker back.
 */
export function putLaneBefore(
  connection: Connection,
  lane: FastLane,
  room: () => Promise<void> | null,
): void {
  const pipe = connection.pipe.bind(connection);
  const laned = (library: Writable): Writable =>
    new Writable({
      highWaterMark: waitingBytes,
      write(piece: Buffer, _encoding, done) {
        // What a connection that is over had still read comes again on the next one.
        const given = connection.destroyed ? null : lane.take(piece, 0);
        const next = () => {
          const behind = room();
          if (behind === null) done();
          else void behind.then(() => done());
        };
        if (given === null) next();
        else library.write(given, next);
      },
      final(done) {
        library.end(done);
      },
    });
  connection.pipe = ((library: Writable, options?: { end?: boolean }) => {
    pipe(laned(library), options);
    return library;
  }) as Connection["pipe"];
}
