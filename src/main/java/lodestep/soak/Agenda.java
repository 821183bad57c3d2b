package lodestep.soak;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** A script's beginnings and ends in the order of time. Confined to its world. */
final class Agenda {

  /** One happening begins or ends. */
  record Edge(Happening what, long atMs, boolean begins) {}

  private final List<Edge> edges = new ArrayList<>();
  private final List<Happening> standing = new ArrayList<>();
  private int next;
  private long nextAtMs;

  Agenda(Script script) {
    for (Happening each : script.happenings()) {
      edges.add(new Edge(each, each.atMs(), true));
      edges.add(new Edge(each, each.untilMs(), false));
    }
    edges.sort(Comparator.comparingLong(Edge::atMs));
    nextAtMs = edges.isEmpty() ? Long.MAX_VALUE : edges.get(0).atMs();
  }

  boolean isDue(long ms) {
    return ms >= nextAtMs;
  }

  Edge take() {
    Edge edge = edges.get(next);
    next++;
    nextAtMs = next < edges.size() ? edges.get(next).atMs() : Long.MAX_VALUE;
    if (edge.begins()) {
      standing.add(edge.what());
    } else {
      standing.remove(edge.what());
    }
    return edge;
  }

  /** Tells the witness that what stands is mended now. */
  void heal(Witness witness) {
    standing.forEach(witness::edge);
    standing.clear();
  }

  /** Tells the witness what stands in this millisecond. */
  void stand(Witness witness) {
    for (int i = 0; i < standing.size(); i++) {
      witness.stands(standing.get(i));
    }
  }
}
