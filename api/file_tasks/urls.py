"""The addresses of imports and exports that a worker does."""

from django.urls import path

from api.file_tasks import views

urlpatterns = [
    path("file-tasks/", views.FileTasks.as_view()),
    path("file-tasks/books-imports/", views.BooksImportTasks.as_view()),
    path("file-tasks/site-imports/", views.SiteImportTasks.as_view()),
    path("file-tasks/site-exports/", views.SiteExportTasks.as_view()),
    path("file-tasks/repairs-exports/", views.RepairsExportTasks.as_view()),
    path("file-tasks/<row:task>/", views.OneFileTask.as_view()),
    path("file-tasks/<row:task>/cancel/", views.FileTaskCancel.as_view()),
    path("file-tasks/<row:task>/result/", views.FileTaskResult.as_view()),
]
