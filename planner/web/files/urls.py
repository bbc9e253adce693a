"""Addresses of imports and exports that a worker does."""

from django.urls import path

from planner.web.files import tasks

urlpatterns = [
    path("files/", tasks.file_tasks, name="file_tasks"),
    path("files/<int:number>/", tasks.file_task, name="file_task"),
    path("files/<int:number>/cancel/", tasks.cancel, name="file_task_cancel"),
    path("files/<int:number>/keep/", tasks.keep, name="file_task_keep"),
    path("files/<int:number>/result/", tasks.result, name="file_task_result"),
    path("files/repairs-export/", tasks.repairs_export, name="file_repairs_export"),
]
