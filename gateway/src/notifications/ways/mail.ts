import type { Transporter } from "nodemailer";
import type { MailServer } from "../../line/index.ts";
import type { Delivery } from "../retry.ts";
import { onOneLine } from "../words/message-words.ts";

/** A mail as it goes out. */
export interface Mail {
  readonly id: string;
  readonly to: string;
  readonly subject: string;
  readonly text: string;
  readonly html: string;
  readonly isUrgent: boolean;
  /** Small picture shown inside, PNG. */
  readonly chart: { readonly name: string; readonly png: Buffer } | null;
}

/** What sending mail needs. */
export interface MailNeeds {
  readonly server: MailServer;
  /** Null where the server asks for no sign-in. */
  readonly password: string | null;
  /** A certificate authority of the own house, PEM. */
  readonly ca?: string;
  readonly withinMs?: number;
}

const withinMs = 30_000;

interface MailError extends Error {
  readonly code?: string;
  readonly responseCode?: number;
  readonly command?: string;
}

/** What a server's refusal means: for good only where it refused this mail or this mailbox (RFC 5321 §4.2.1). */
function whyNot(error: MailError, host: string): Delivery {
  const { code = "", responseCode, command = "" } = error;
  const fail = (why: string, forGood = false): Delivery => ({ delivered: false, forGood, why });
  if (code === "EAUTH") return fail(`${host} does not take the sign-in: look at user and password.`);
  if (code === "ETIMEDOUT") return fail(`${host} did not answer in time.`);
  if (responseCode !== undefined) {
    const said = onOneLine(error.message.replace(/^.*?(?=\d{3}[ -])/s, "")).slice(0, 160);
    const isOfMail = /^(RCPT TO|DATA|MAIL FROM)/.test(command) || code === "EENVELOPE" || code === "EMESSAGE";
    return fail(`${host} said: ${said}`, responseCode >= 500 && isOfMail);
  }
  if (code === "ETLS" || /certificate|self-signed|altname|issuer/i.test(error.message))
    return fail(`${host}: no safe connection, its certificate can't be trusted.`);
  if (code === "EDNS" || /ENOTFOUND|EAI_AGAIN/.test(error.message))
    return fail(`The name ${host} leads nowhere.`);
  return fail(`${host} can't be reached.`);
}

/** Opens the way to a server. The library is loaded for the first mail: most starts send none. */
async function openTransport({ server, password, ca }: MailNeeds, within: number): Promise<Transporter> {
  const { createTransport } = await import("nodemailer");
  const { server: host, port, security, user } = server;
  return createTransport({
    host,
    port,
    secure: security === "tls",
    requireTLS: security === "starttls",
    ignoreTLS: security === "none",
    ...(user !== null && password !== null ? { auth: { user, pass: password } } : {}),
    tls: { minVersion: "TLSv1.2", ...(ca === undefined ? {} : { ca }) },
    connectionTimeout: within / 3,
    greetingTimeout: within / 3,
    socketTimeout: within / 2,
    disableFileAccess: true,
    disableUrlAccess: true,
  });
}

/** Sends mails by one server. Nothing of a mail is read from files or addresses; the text is what it was given. */
export function createMail(needs: MailNeeds) {
  const { server, withinMs: within = withinMs } = needs;
  const { server: host, from } = server;
  let transport: Promise<Transporter> | null = null;
  return {
    /** Resolves with what became of it; never rejects. */
    async send({ id, to, subject, text, html, isUrgent, chart }: Mail): Promise<Delivery> {
      const late = Promise.withResolvers<never>();
      const timer = setTimeout(
        () => late.reject(Object.assign(new Error("late"), { code: "ETIMEDOUT" })),
        within,
      );
      try {
        transport ??= openTransport(needs, within);
        const sending = (await transport).sendMail({
          from: { name: "Drumlin", address: from },
          to: { name: "", address: to },
          subject: onOneLine(subject),
          text,
          html,
          // The same for each try: whoever gets it twice shows it once.
          messageId: `<${id}@drumlin.invalid>`,
          headers: {
            // RFC 3834: nobody's holiday answers it.
            "Auto-Submitted": "auto-generated",
            ...(isUrgent ? { Importance: "high", "X-Priority": "1" } : {}),
          },
          attachments: chart
            ? [{ filename: "chart.png", cid: chart.name, content: chart.png, contentType: "image/png" }]
            : [],
        });
        sending.catch(() => {});
        await Promise.race([sending, late.promise]);
        return { delivered: true };
      } catch (error) {
        return whyNot(error as MailError, host);
      } finally {
        clearTimeout(timer);
      }
    },
    close: () => void transport?.then((open) => open.close()),
  };
}
