package lodestep.panel;

/** A request that is not carried out: a status of HTTP, a short name, and one sentence. */
final class Refused extends RuntimeException {

  private static final long serialVersionUID = 1L;

  private final int status;
  private final String what;
  private final String sentence;

  Refused(int status, String what, String sentence) {
    super(sentence, null, false, false);
    this.status = status;
    this.what = what;
    this.sentence = sentence;
  }

  int status() {
    return status;
  }

  String what() {
    return what;
  }

  String sentence() {
    return sentence;
  }
}
