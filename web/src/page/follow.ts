/** Answers the newest question alone. While one is being answered others may be asked: of
 *  these the last is answered next, so that what is shown is never older than one answer. */
export class Follower<Ask> {
  private next: Ask | undefined;
  private busy = false;

  constructor(private readonly answer: (ask: Ask) => Promise<void>) {}

  ask(question: Ask): void {
    this.next = question;
    if (!this.busy) void this.run();
  }

  private async run(): Promise<void> {
    this.busy = true;
    while (this.next !== undefined) {
      const question = this.next;
      this.next = undefined;
      await this.answer(question);
    }
    this.busy = false;
  }
}
