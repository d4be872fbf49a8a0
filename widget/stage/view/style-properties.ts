import { noChange } from 'lit';
import type { ElementPart, PartInfo } from 'lit/directive.js';
import { Directive, directive, PartType } from 'lit/directive.js';

type Properties = Readonly<Record<string, string>>;

/**
 * Element directive: sets style properties one by one through the object model, which a strict `style-src` allows. Lit's
 * own `styleMap` writes a style attribute at its first render, which such a policy blocks.
 */
class StyleProperties extends Directive {
  #before: Properties = {};

  constructor(part: PartInfo) {
    super(part);
    if (part.type !== PartType.ELEMENT)
      throw new Error('styleProperties() stands in a tag, not in an attribute');
  }

  render(_properties: Properties): unknown {
    return noChange;
  }

  override update(part: ElementPart, [properties]: [Properties]): unknown {
    const { style } = part.element as HTMLElement | SVGElement;
    for (const name of Object.keys(this.#before)) if (!(name in properties)) style.removeProperty(name);
    for (const [name, value] of Object.entries(properties))
      if (this.#before[name] !== value) style.setProperty(name, value);
    this.#before = properties;
    return noChange;
  }
}

/** `<div ${styleProperties({ width: '12px', '--turn': '3deg' })}>`: kebab-case names, custom properties too. */
export const styleProperties = directive(StyleProperties);
