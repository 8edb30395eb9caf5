import { createServer, type Server, type Socket } from "node:net";
import type { MailServer } from "@drumlin/gateway/line";
import { asHtml, asText, createMail, type Mail } from "@drumlin/gateway/notifications";
import { SMTPServer, type SMTPServerOptions } from "smtp-server";
import { afterEach, describe, expect, it } from "vitest";
import { ownCertificate } from "../../acceptance/notifications/outside-world.ts";
import { aMessage } from "./a-message.ts";

const here = ownCertificate("IP:127.0.0.1,DNS:localhost");
const ofAnother = ownCertificate("DNS:mail.example.org");

const closing: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closing.splice(0)) await close();
});

interface Got {
  readonly to: readonly string[];
  readonly text: string;
  readonly isSafe: boolean;
}

/** A real SMTP server on this machine that keeps what it takes. */
async function smtp(
  options: SMTPServerOptions = {},
): Promise<{ readonly port: number; readonly got: Got[] }> {
  const got: Got[] = [];
  const server = new SMTPServer({
    logger: false,
    authOptional: true,
    disableReverseLookup: true,
    ...here,
    onData(stream, session, done) {
      const parts: Buffer[] = [];
      stream.on("data", (part: Buffer) => parts.push(part));
      stream.on("end", () => {
        got.push({
          to: session.envelope.rcptTo.map(({ address }) => address),
          text: Buffer.concat(parts).toString("utf8"),
          isSafe: session.secure,
        });
        done(null);
      });
    },
    ...options,
  });
  server.on("error", () => {});
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  closing.push(() => new Promise((resolve) => server.close(() => resolve())));
  const { port } = server.server.address() as { port: number };
  return { port, got };
}

const refusal = (code: number, text: string): Error => Object.assign(new Error(text), { responseCode: code });

const mailOf = (more: Partial<Mail> = {}): Mail => {
  const words = aMessage();
  return {
    id: "6f1f-7",
    to: "mara@example.org",
    subject: words.subject,
    text: asText(words),
    html: asHtml(words, null),
    isUrgent: true,
    chart: null,
    ...more,
  };
};

function sender(port: number, more: Partial<MailServer> = {}, ca = here.cert, withinMs = 30_000) {
  const server: MailServer = {
    server: "127.0.0.1",
    port,
    security: "starttls",
    user: null,
    from: "drumlin@example.org",
    ...more,
  };
  const mail = createMail({ server, password: more.user ? "s3cret" : null, withinMs, ...(ca ? { ca } : {}) });
  closing.push(async () => mail.close());
  return mail;
}

describe("mail by a real SMTP server", () => {
  it("goes out over STARTTLS, signed in, as text and HTML, with the same id at each try", async () => {
    const { port, got } = await smtp({
      authOptional: false,
      onAuth: ({ username, password }, _session, done) =>
        username === "drumlin" && password === "s3cret"
          ? done(null, { user: username })
          : done(refusal(535, "no")),
    });
    const mail = sender(port, { user: "drumlin" });
    expect(await mail.send(mailOf())).toEqual({ delivered: true });
    expect(await mail.send(mailOf())).toEqual({ delivered: true });
    const [first, second] = got as [Got, Got];
    expect(first).toMatchObject({ to: ["mara@example.org"], isSafe: true });
    const idOf = ({ text }: Got) => /^Message-ID: (.*)$/im.exec(text)?.[1];
    expect(idOf(first)).toBe("<6f1f-7@drumlin.invalid>");
    expect(idOf(second)).toBe(idOf(first));
    expect(first.text).toMatch(/^Auto-Submitted: auto-generated/im);
    expect(first.text).toContain("multipart/alternative");
  });

  it("shows its small picture inside", async () => {
    const { port, got } = await smtp();
    const png = Buffer.from("89504e470d0a1a0a", "hex");
    const words = aMessage();
    await sender(port).send(mailOf({ chart: { name: "chart", png }, html: asHtml(words, "chart") }));
    expect(got[0]?.text).toMatch(/Content-Id: <chart>/i);
    expect(got[0]?.text).toContain(png.toString("base64"));
  });

  it("is tried again when the server greylists, and goes through then", async () => {
    let tries = 0;
    const { port } = await smtp({
      onRcptTo(_address, _session, done) {
        tries += 1;
        done(tries === 1 ? refusal(451, "4.7.1 Greylisted, come back in 5 minutes") : null);
      },
    });
    const mail = sender(port);
    expect(await mail.send(mailOf())).toEqual({
      delivered: false,
      forGood: false,
      why: "127.0.0.1 said: 451 4.7.1 Greylisted, come back in 5 minutes",
    });
    expect(await mail.send(mailOf())).toEqual({ delivered: true });
  });

  it("is given up where there is no such mailbox", async () => {
    const { port } = await smtp({
      onRcptTo: (_address, _session, done) => done(refusal(550, "5.1.1 No such mailbox")),
    });
    expect(await sender(port).send(mailOf())).toMatchObject({ delivered: false, forGood: true });
  });

  it("is kept where the password is wrong: somebody will put it right", async () => {
    const { port } = await smtp({ onAuth: (_auth, _session, done) => done(refusal(535, "5.7.8 no")) });
    expect(await sender(port, { user: "drumlin" }).send(mailOf())).toEqual({
      delivered: false,
      forGood: false,
      why: "127.0.0.1 does not take the sign-in: look at user and password.",
    });
  });

  it("is not sent over a connection whose certificate is wrong, nor over a plain one", async () => {
    const right = await smtp();
    // Nobody has said that this certificate is to be trusted.
    expect(await sender(right.port, {}, "").send(mailOf())).toMatchObject({
      delivered: false,
      forGood: false,
      why: "127.0.0.1: no safe connection, its certificate can't be trusted.",
    });
    const another = await smtp(ofAnother);
    expect(await sender(another.port, {}, ofAnother.cert).send(mailOf())).toMatchObject({
      why: "127.0.0.1: no safe connection, its certificate can't be trusted.",
    });
    const plain = await smtp({ hideSTARTTLS: true, disabledCommands: ["STARTTLS"] });
    expect(await sender(plain.port).send(mailOf())).toMatchObject({ delivered: false, forGood: false });
    expect([...right.got, ...another.got, ...plain.got]).toEqual([]);
  });

  it("waits no longer than it may for a server that hangs, at the greeting or in the middle", async () => {
    const sockets: Socket[] = [];
    const silent = await new Promise<Server>((resolve) => {
      const server = createServer((socket) => sockets.push(socket));
      server.listen(0, "127.0.0.1", () => resolve(server));
    });
    closing.push(async () => {
      for (const socket of sockets) socket.destroy();
      silent.close();
    });
    const { port } = silent.address() as { port: number };
    const why = "127.0.0.1 did not answer in time.";
    expect(await sender(port, {}, "", 600).send(mailOf())).toEqual({ delivered: false, forGood: false, why });
    const inside = await smtp({ onData: (stream) => void stream.resume() });
    expect(await sender(inside.port, {}, undefined, 600).send(mailOf())).toEqual({
      delivered: false,
      forGood: false,
      why,
    });
  });

  it("can't be made to carry another header or another receiver", async () => {
    const { port, got } = await smtp();
    await sender(port).send(mailOf({ subject: "Wet\r\nBcc: eve@example.org\r\n\r\nhello" }));
    expect(got[0]?.to).toEqual(["mara@example.org"]);
    expect(got[0]?.text).not.toMatch(/^Bcc:/im);
  });
});
