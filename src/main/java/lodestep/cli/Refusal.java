package lodestep.cli;

import java.util.List;

/** What a person asked cannot be done: sentences that say what, where and what to do. Exit 2. */
public final class Refusal extends RuntimeException {

  private static final long serialVersionUID = 1L;

  /** One sentence. */
  public Refusal(String sentence) {
    super(sentence);
  }

  /** Several sentences, one a line. */
  public Refusal(List<String> sentences) {
    super(String.join(System.lineSeparator(), sentences));
  }
}
