import { Formatter } from '../format/index.ts';
import { MessageFormat } from '../locales/message-format.ts';
import type { StageWords } from '../locales/stage-words.ts';

/** Names and figures alone, until a language is given. */
export const DEFAULT_WORDS: StageWords = {
  drawing: (_say, view) => view,
  artworks: '',
  keys: '',
  artwork: (say, p) => `${p.name}, ${p.face}, ${say.size(p.widthMm, p.heightMm)}`,
  moved: (say, p) => say.len(p.widthMm),
  wide: (say, widthMm) => say.len(widthMm),
  outside: '!',
  inKeepOut: (_say, name) => name,
  loading: '…',
  failed: '!',
  dropHere: '+',
  chooseFile: '',
};
export const DEFAULT_SAY = new MessageFormat(new Formatter('en'), 'mm', 'USD');
