"""Where the pages of the bench are."""

from django.urls import path

from turnscrew.web.bench import camera, shell, telling

app_name = "bench"
urlpatterns = [
    path("", shell.page, name="page"),
    path("worker.js", shell.worker, name="worker"),
    path("letters.otf", shell.letters, name="letters"),
    path("state/", telling.state, name="state"),
    path("find/", telling.find, name="find"),
    path("runs/<slug:ref>/", telling.run, name="run"),
    path("tell/", telling.tell, name="tell"),
    path("hand/", telling.hand, name="hand"),
    path("jobs/<slug:ref>/begin/", telling.begin, name="begin"),
    path("jobs/<slug:ref>/anew/", telling.anew, name="anew"),
    path("jobs/<slug:ref>/record/", telling.record, name="record"),
    path("jobs/<slug:ref>/turn-round/", telling.turn_round, name="turn_round"),
    path("jobs/<slug:ref>/settle/", telling.settle, name="settle"),
    path("jobs/<slug:ref>/park/", telling.park, name="park"),
    path("jobs/<slug:ref>/stop/", telling.stop, name="stop"),
    path("jobs/<slug:ref>/diagnosis/", telling.diagnosis, name="diagnosis"),
    path("join/", camera.join, name="join"),
    path("camera/<str:token>/", camera.page, name="camera"),
]
