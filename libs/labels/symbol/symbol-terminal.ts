import QRCode from 'qrcode';

const blackOnWhite = '\u001b[30;107m';
const asBefore = '\u001b[0m';

/**
 * A symbol in lines of text, two rows of modules per line. In a terminal it sets its own colours, since it must be dark
 * on light whatever the terminal's colours are; in a file or a journal it is plain blocks.
 */
export async function symbolForTerminal(text: string, inTerminal: boolean): Promise<string[]> {
  const drawn = await QRCode.toString(text, { type: 'utf8', errorCorrectionLevel: 'L', margin: 2 });
  const lines = drawn.split('\n');
  return inTerminal ? lines.map((line) => `${blackOnWhite}${line}${asBefore}`) : lines;
}
