import { useState } from "preact/hooks";
import { roleWords } from "../format/words.ts";
import { w } from "../words/words.ts";
import { PersonActs, type PersonActsProps } from "./person-acts.tsx";
import { Sheet } from "./sheet.tsx";

/** One person: their role, and one way to all that can be done about them. */
export function PersonRow({ person, isOneself, changed }: PersonActsProps) {
  const { name, role, disabled } = person;
  const [isOpen, open] = useState(false);
  return (
    <li class="person">
      <p>
        <b>{name}</b>
        {isOneself && ` ${w.peopleWords.you}`} <span class="soft">{roleWords(role)}</span>{" "}
        {disabled && <span class="tag">{w.peopleWords.disabledTag}</span>}
      </p>
      <button
        type="button"
        class="btn"
        aria-label={`${w.peopleWords.change}: ${name}`}
        onClick={() => open(true)}
      >
        {w.peopleWords.change}
      </button>
      {isOpen && (
        <Sheet title={name} onClose={() => open(false)}>
          <PersonActs person={person} isOneself={isOneself} changed={changed} />
        </Sheet>
      )}
    </li>
  );
}
