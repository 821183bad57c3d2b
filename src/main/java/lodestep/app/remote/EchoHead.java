package lodestep.app.remote;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.PrintWriter;
import lodestep.protocol.HeadFrame;
import lodestep.protocol.HeadLineWriter;
import lodestep.protocol.HeadRequest;
import lodestep.protocol.HostLine;
import lodestep.protocol.RequestDecoder;

/** A head that does nothing but answer: what a round trip over the line takes without any work. */
final class EchoHead {

  private final RigCable cable;

  EchoHead(RigCable cable) {
    this.cable = cable;
  }

  void serve(BufferedReader orders, PrintWriter answers) throws IOException {
    Thread echo = new Thread(this::answerAll, "echo");
    echo.setDaemon(true);
    echo.start();
    answers.println("ready");
    answers.flush();
    String order = orders.readLine();
    while (order != null && !order.equals("end")) {
      order = orders.readLine();
    }
  }

  private void answerAll() {
    RequestDecoder decoder = new RequestDecoder();
    long total = 0;
    byte[] came = cable.readUpTo(total + 1);
    while (came.length > 0) {
      total += came.length;
      for (HostLine line : decoder.feed(came, came.length).lines()) {
        if (line.request() instanceof HeadRequest.Heartbeat beat) {
          cable.write(HeadLineWriter.line(status(beat.sequence())));
        }
      }
      came = cable.readUpTo(total + 1);
    }
  }

  private static HeadFrame status(int sequence) {
    return new HeadFrame.Status(
        sequence, 40_213, 61_230, 200, -1_834, 2_312, 2_405, 17_310, 0, 0, 0);
  }
}
