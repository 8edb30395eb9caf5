import type { ComponentChildren } from "preact";

interface CardProps {
  readonly title?: ComponentChildren;
  /** Said beside the title, quieter. */
  readonly beside?: ComponentChildren;
  readonly children: ComponentChildren;
}

/** One part of a page on its own ground, under its heading. */
export function Card({ title, beside, children }: CardProps) {
  return (
    <section class="sheet">
      {title !== undefined && (
        <div class="plate-h">
          <h2>{title}</h2>
          {beside !== undefined && <span class="soft">{beside}</span>}
        </div>
      )}
      {children}
    </section>
  );
}
