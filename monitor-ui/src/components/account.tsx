import { changeMe, me } from "../data/me.ts";

/** Who is signed in, and the way out; or the way to the first account. */
export function Account() {
  const shown = me.value;
  if (shown?.setUp)
    return (
      <span class="account">
        <a href="#set-up">Make the first account: until then nobody can act</a>
      </span>
    );
  if (!shown?.signedIn) return null;
  const { name, role } = shown.signedIn;
  return (
    <span class="account">
      <span>
        {name === role ? name : `${name}, ${role}`}
        {shown.given ? ", without a password (demo)" : ""}
      </span>
      {!shown.given && (
        <button type="button" onClick={() => void changeMe("sign-out")}>
          Sign out
        </button>
      )}
    </span>
  );
}
