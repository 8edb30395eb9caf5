import { randomUUID } from "node:crypto";

const prefix = "device-";

/** Whether a destination's id is one of a device: a line may not name one so. */
export const isDevice = (id: string): boolean => id.startsWith(prefix);

/** The id of a device that has just asked for messages. */
export const newDeviceId = (): string => `${prefix}${randomUUID()}`;
