/** An element of a cleaned drawing. Names have no prefix; `href` is also `xlink:href`. */
export type DrawingNode = {
  readonly name: string;
  readonly attributes: Map<string, string>;
  readonly children: (DrawingNode | string)[];
};

/** Every element in document order, the given one first. */
export function* walk(root: DrawingNode): Generator<DrawingNode> {
  const stack = [root];
  while (stack.length > 0) {
    const node = stack.pop()!;
    yield node;
    for (let index = node.children.length - 1; index >= 0; index--) {
      const child = node.children[index]!;
      if (typeof child !== 'string') stack.push(child);
    }
  }
}

/** Serializes the drawing as SVG 1.1. */
export function writeDrawing(root: DrawingNode): string {
  const parts: string[] = [];
  write(root, parts, true);
  return parts.join('');
}

/** The depth was limited when the drawing was read, so recursion is safe. */
function write(node: DrawingNode, parts: string[], isRoot: boolean): void {
  parts.push('<', node.name);
  if (isRoot) parts.push(' xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"');
  for (const [name, value] of node.attributes) {
    parts.push(' ', name === 'href' ? 'xlink:href' : name, '="', escapeXml(value), '"');
  }
  if (node.children.length === 0) {
    parts.push('/>');
    return;
  }
  parts.push('>');
  for (const child of node.children) {
    if (typeof child === 'string') parts.push(escapeXml(child));
    else write(child, parts, false);
  }
  parts.push('</', node.name, '>');
}

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  '\n': '&#10;',
  '\r': '&#13;',
  '\t': '&#9;',
};

function escapeXml(text: string): string {
  return text.replace(/[&<>"\n\r\t]/g, (character) => ESCAPES[character]!);
}
