import { createCipheriv, createECDH, createHmac, type ECDH, randomBytes } from "node:crypto";

/** The keys of a subscription, as the browser gave them (RFC 8291 §3.1), decoded. */
export interface SubscriptionKeys {
  /** Public key of the user agent, P-256, uncompressed: 65 bytes. */
  readonly p256dh: Buffer;
  /** Authentication secret: 16 bytes. */
  readonly auth: Buffer;
}

const curve = "prime256v1";
/** RFC 8188 §2.1: one record holds it all. */
const recordBytes = 4096;
/** What one record holds besides its delimiter and tag (16 bytes), less the header (86 bytes). */
const maxPushBytes = recordBytes - 86 - 17;

/** Whether messages can be encrypted for these keys: a point of P-256, and 16 bytes (RFC 8291 §3.1, §3.2). */
export function areUsableKeys({ p256dh, auth }: SubscriptionKeys): boolean {
  if (p256dh.length !== 65 || auth.length !== 16) return false;
  try {
    const one = createECDH(curve);
    one.generateKeys();
    one.computeSecret(p256dh);
    return true;
  } catch {
    return false;
  }
}

/** RFC 5869 with SHA-256, one block of output. */
function hkdf(salt: Buffer, key: Buffer, info: Buffer, length: number): Buffer {
  const extracted = createHmac("sha256", salt).update(key).digest();
  const expanded = createHmac("sha256", extracted)
    .update(info)
    .update(Buffer.from([1]))
    .digest();
  return expanded.subarray(0, length);
}

const text = (words: string): Buffer => Buffer.from(`${words}\0`, "latin1");

/** Salt and key pair of one message; random but where an example is worked out again. */
export interface PushEntropy {
  readonly salt: Buffer;
  readonly sender: ECDH;
}

function freshEntropy(): PushEntropy {
  const sender = createECDH(curve);
  sender.generateKeys();
  return { salt: randomBytes(16), sender };
}

/**
 * Encrypts a push message for one subscription: RFC 8291 (keys), RFC 8188 `aes128gcm` (body). Throws RangeError where it is
 * too long for one record, Error where the subscription's key is no point of P-256.
 */
export function encryptPush(
  plain: Buffer,
  { p256dh, auth }: SubscriptionKeys,
  { salt, sender }: PushEntropy = freshEntropy(),
): Buffer {
  if (plain.length > maxPushBytes)
    throw new RangeError(`A push message holds ${maxPushBytes} bytes, not ${plain.length}.`);
  const senderKey = sender.getPublicKey();
  const shared = sender.computeSecret(p256dh);
  const keyInfo = Buffer.concat([text("WebPush: info"), p256dh, senderKey]);
  const inputKey = hkdf(auth, shared, keyInfo, 32);
  const contentKey = hkdf(salt, inputKey, text("Content-Encoding: aes128gcm"), 16);
  const nonce = hkdf(salt, inputKey, text("Content-Encoding: nonce"), 12);
  const cipher = createCipheriv("aes-128-gcm", contentKey, nonce);
  // 2: the delimiter of the last record.
  const body = Buffer.concat([cipher.update(plain), cipher.update(Buffer.from([2])), cipher.final()]);
  const head = Buffer.alloc(5);
  head.writeUInt32BE(recordBytes, 0);
  head.writeUInt8(senderKey.length, 4);
  return Buffer.concat([salt, head, senderKey, body, cipher.getAuthTag()]);
}
