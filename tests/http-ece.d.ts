declare module "http_ece" {
  import type { ECDH } from "node:crypto";

  const ece: {
    decrypt(
      body: Buffer,
      how: { readonly version: "aes128gcm"; readonly privateKey: ECDH; readonly authSecret: string },
    ): Buffer;
  };
  export default ece;
}
