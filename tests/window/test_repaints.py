"""A face that repaints thousands of times, told by how the process ends.

PySide6 6.12.0 on Python 3.11 loses a reference at each Python override of a void function and aborts after a while:
within pytest that shows only in its exit code.
"""

import os
import subprocess
import sys

SCRIPT = """
from PySide6.QtWidgets import QApplication
from tests.sitting.plugs import STAGGERED_5
from workbench.sitting.faceplan import face_plan
from workbench.window import theme
from workbench.window.faces.faceview import FaceView
from workbench.window.faces.state import FaceState, Mark, Tone

app = QApplication([])
theme.apply(app, theme.LIGHT)
painted = 0

class Counted(FaceView):
    def paintEvent(self, event):
        global painted
        painted += 1
        super().paintEvent(event)

face = Counted()
face.resize(500, 320)
face.set_state(FaceState(face_plan(STAGGERED_5), (Mark("B.1", "B.2", "309 out", Tone.OUT),), frozenset({"B.1"})))
face.show()
while not face.windowHandle().isExposed():
    app.processEvents()
for _ in range(5000):
    face.repaint()
print(painted)
"""


def test_five_thousand_repaints_end_well() -> None:
    env = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT], env=env, capture_output=True, text=True, timeout=120, check=False
    )
    assert run.returncode == 0, run.stderr
    assert int(run.stdout) >= 5000
